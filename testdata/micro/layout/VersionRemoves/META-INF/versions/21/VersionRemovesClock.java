package layout;

/** The clock for releases from 21 on. */
class VersionRemovesClock {
    static int nanos() { return 0; }
}
