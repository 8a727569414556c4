package calls;

/*
 * An executor calls a task, which needs a missing class.
 * source: Java SE API java.util.concurrent
 * effect: breaks
 * category: JVM-initiated calls
 */
class Executor {
    public static void main(String[] args) throws Exception {
        var executor = java.util.concurrent.Executors.newSingleThreadExecutor();
        try {
            System.out.println(executor.submit(() -> new java.sql.Timestamp(0L).getNanos()).get());
        } finally {
            executor.shutdown();
        }
    }
}
