package features;

/*
 * The bean of the flight recorder is looked for by its object name.
 * source: module jdk.management.jfr
 * module: jdk.management.jfr
 * also: java.management jdk.jfr
 * effect: degrades
 */
class RecorderBean {
    public static void main(String[] args) throws Exception {
        var beans = java.lang.management.ManagementFactory.getPlatformMBeanServer();
        System.out.println(beans.isRegistered(new javax.management.ObjectName("jdk.management.jfr:type=FlightRecorder")));
    }
}
