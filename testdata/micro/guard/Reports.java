package guard;

/*
 * The handler for absence tells of a fault: somebody finds that something does not work.
 * source: observed
 * effect: degrades
 * packed: yes
 */
public class Reports {
    static class Log {
        static void error(String text, Throwable cause) {
            System.out.println(text + ": " + cause.getMessage());
        }
    }

    static void register() {
        System.out.println("registered at " + new java.sql.Timestamp(0L).getNanos());
    }

    public static void main(String[] args) {
        try {
            register();
        } catch (LinkageError absent) {
            Log.error("cannot register", absent);
        }
    }
}
