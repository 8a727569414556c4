package calls;

/*
 * A class that a thread could run needs a missing class, but no object of it is made.
 * source: Bacon and Sweeney, OOPSLA 1996
 * effect: fine
 * category: JVM-initiated calls
 */
class ThreadUnstarted {
    static class Reader implements Runnable {
        public void run() { System.out.println(new java.sql.Timestamp(0L).getNanos()); }
    }

    public static void main(String[] args) throws Exception {
        Thread thread = new Thread(() -> System.out.println("level 212 cm"));
        thread.start();
        thread.join();
    }
}
