package guard;

/*
 * A class whose initialiser needs a missing class is used where the error is caught.
 * source: JVMS §5.5
 * effect: guarded
 * category: Static initialisers
 */
class InitialiserGuarded {
    static class Clock {
        static final Object START = new java.sql.Timestamp(0L);
    }

    public static void main(String[] args) {
        try {
            System.out.println(Clock.START != null);
        } catch (LinkageError missing) {
            System.out.println("without: clock");
        }
    }
}
