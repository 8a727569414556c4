package calls;

/*
 * Creating an array of a class does not run its initialiser.
 * source: JLS §12.4.1
 * effect: fine
 * category: Static initialisers
 */
class InitialiserByArray {
    static class Clock {
        static final Object START = new java.sql.Timestamp(0L);
    }

    public static void main(String[] args) {
        System.out.println(new Clock[2].length);
    }
}
