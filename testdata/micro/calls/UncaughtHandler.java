package calls;

/*
 * The JVM calls the handler of uncaught exceptions, which needs a missing class.
 * source: Java SE API Thread.UncaughtExceptionHandler
 * effect: degrades
 * category: JVM-initiated calls
 */
class UncaughtHandler {
    static class Last implements Thread.UncaughtExceptionHandler {
        public void uncaughtException(Thread thread, Throwable error) {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static void main(String[] args) throws Exception {
        Thread thread = new Thread(() -> { throw new IllegalStateException("sluice stuck"); });
        thread.setUncaughtExceptionHandler(new Last());
        thread.start();
        thread.join();
        System.out.println("level 212 cm");
    }
}
