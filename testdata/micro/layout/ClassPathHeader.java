package layout;

/*
 * The manifest puts a second archive on the class path, whose class needs a missing class.
 * source: JAR File Specification, Class-Path
 * effect: breaks
 * packed: yes
 * library: Clock
 */
class ClassPathHeader {
    static class Clock {
        static int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) {
        System.out.println(Clock.nanos());
    }
}
