package guard;

/*
 * A class that cannot be linked is used where the error is caught.
 * source: JVMS §5.4.1
 * effect: guarded
 */
class LinkGuarded {
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
        try {
            System.out.println(Store.level());
        } catch (LinkageError missing) {
            System.out.println("without: store");
        }
    }
}
