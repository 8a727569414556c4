package features;

/*
 * A system logger is asked for: without the logging module a simple one answers.
 * source: JEP 264, Java SE API System.Logger
 * module: java.logging
 * effect: degrades
 */
class SystemLogger {
    public static void main(String[] args) {
        System.out.println(System.getLogger("gauges").getClass().getSimpleName());
    }
}
