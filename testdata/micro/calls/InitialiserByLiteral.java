package calls;

/*
 * A class literal does not run the initialiser.
 * source: JLS §12.4.1
 * effect: fine
 * category: Static initialisers
 */
class InitialiserByLiteral {
    static class Clock {
        static final Object START = new java.sql.Timestamp(0L);
    }

    public static void main(String[] args) {
        System.out.println(Clock.class.getSimpleName());
    }
}
