package calls;

/*
 * Reading a constant variable does not run the initialiser.
 * source: JLS §12.4.1, JLS §13.1
 * effect: fine
 * category: Static initialisers
 */
class InitialiserByConstant {
    static class Clock {
        static final Object START = new java.sql.Timestamp(0L);
        static final int UNIT = 1;
    }

    public static void main(String[] args) {
        System.out.println(Clock.UNIT);
    }
}
