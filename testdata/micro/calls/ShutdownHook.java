package calls;

/*
 * The JVM runs a shutdown hook, which needs a missing class.
 * source: Java SE API Runtime.addShutdownHook
 * effect: degrades
 * category: JVM-initiated calls
 */
class ShutdownHook {
    static class Last extends Thread {
        @Override public void run() { System.out.println(new java.sql.Timestamp(0L).getNanos()); }
    }

    public static void main(String[] args) {
        Runtime.getRuntime().addShutdownHook(new Last());
        System.out.println("level 212 cm");
    }
}
