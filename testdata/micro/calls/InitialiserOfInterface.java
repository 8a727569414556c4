package calls;

/*
 * Creating an object runs the initialiser of an interface with a default method, which needs a missing class.
 * source: JVMS §5.5
 * effect: breaks
 * category: Static initialisers
 */
class InitialiserOfInterface {
    interface Clock {
        Object START = new java.sql.Timestamp(0L);
        default int unit() { return 1; }
    }

    static class Coarse implements Clock { }

    public static void main(String[] args) {
        System.out.println(new Coarse().getClass().getSimpleName());
    }
}
