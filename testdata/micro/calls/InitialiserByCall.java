package calls;

/*
 * A static call runs the initialiser of a class, which needs a missing class.
 * source: JVMS §5.5
 * effect: breaks
 * category: Static initialisers
 */
class InitialiserByCall {
    static class Clock {
        static final Object START = new java.sql.Timestamp(0L);
        static int unit() { return 1; }
    }

    public static void main(String[] args) {
        System.out.println(Clock.unit());
    }
}
