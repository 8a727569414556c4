package features;

/*
 * The bean of the loggers is looked for by its object name.
 * source: Java SE API java.util.logging.LoggingMXBean
 * module: java.logging
 * also: java.management
 * effect: degrades
 */
class LoggingBean {
    public static void main(String[] args) throws Exception {
        var beans = java.lang.management.ManagementFactory.getPlatformMBeanServer();
        System.out.println(beans.isRegistered(new javax.management.ObjectName("java.util.logging:type=Logging")));
    }
}
