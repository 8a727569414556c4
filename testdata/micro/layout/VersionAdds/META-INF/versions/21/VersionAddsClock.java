package layout;

/** The clock for releases from 21 on. */
class VersionAddsClock {
    static int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
}
