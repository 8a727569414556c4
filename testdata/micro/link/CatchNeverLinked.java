package link;

/*
 * A class that catches a missing exception type is named by a literal only, and so never linked.
 * source: JVMS §5.4, §5.5
 * effect: fine
 */
class CatchNeverLinked {
    static class Store {
        static void open(java.util.concurrent.Callable<?> opening) throws Exception {
            try {
                opening.call();
            } catch (java.sql.SQLException error) {
                System.out.println("closed");
            }
        }
    }

    public static void main(String[] args) {
        System.out.println(Store.class.getSimpleName());
    }
}
