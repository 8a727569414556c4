package link;

/*
 * One of several caught exception types is missing.
 * source: JVMS §4.10.1.4
 * effect: breaks
 */
class MultiCatch {
    private static void open(java.util.concurrent.Callable<?> opening) throws Exception {
        try {
            opening.call();
        } catch (java.sql.SQLException | java.io.IOException error) {
            System.out.println("closed");
        }
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
