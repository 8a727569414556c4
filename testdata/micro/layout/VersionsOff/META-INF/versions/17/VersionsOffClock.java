package layout;

/** No JVM loads this: the attribute's value would have to be true. */
class VersionsOffClock {
    static int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
}
