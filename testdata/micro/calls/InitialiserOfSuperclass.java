package calls;

/*
 * Creating an object runs the initialiser of its superclass, which needs a missing class.
 * source: JVMS §5.5
 * effect: breaks
 * category: Static initialisers
 */
class InitialiserOfSuperclass {
    static class Clock {
        static final Object START = new java.sql.Timestamp(0L);
    }

    static class Coarse extends Clock { }

    public static void main(String[] args) {
        System.out.println(new Coarse().getClass().getSimpleName());
    }
}
