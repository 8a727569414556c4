package link;

/*
 * A missing exception type is caught, in a method that nothing calls.
 * source: JVMS §4.10.1.4
 * effect: breaks
 */
class Catch {
    static class Store {
        static int level() { return 212; }

        static void open(java.util.concurrent.Callable<?> opening) throws Exception {
            try {
                opening.call();
            } catch (java.sql.SQLException error) {
                System.out.println("closed");
            }
        }
    }

    public static void main(String[] args) {
        System.out.println(Store.level());
    }
}
