package calls;

/*
 * A thread runs a method that needs a missing class.
 * source: Java SE API Thread.start
 * effect: degrades
 * category: JVM-initiated calls
 */
class ThreadStart {
    static class Reader implements Runnable {
        public void run() { System.out.println(new java.sql.Timestamp(0L).getNanos()); }
    }

    public static void main(String[] args) throws Exception {
        Thread thread = new Thread(new Reader());
        thread.start();
        thread.join();
        System.out.println("level 212 cm");
    }
}
