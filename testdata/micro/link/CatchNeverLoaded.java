package link;

/*
 * A class that catches a missing exception type is never loaded.
 * source: JVMS §5.3
 * effect: fine
 */
class CatchNeverLoaded {
    static class Store {
        static void open(java.util.concurrent.Callable<?> opening) throws Exception {
            try {
                opening.call();
            } catch (java.sql.SQLException error) {
                System.out.println("closed");
            }
        }
    }

    private static void open() throws Exception { Store.open(() -> null); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
