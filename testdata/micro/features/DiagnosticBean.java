package features;

/*
 * The diagnostic bean is looked for by its object name.
 * source: module jdk.management
 * module: jdk.management
 * also: java.management
 * effect: degrades
 */
class DiagnosticBean {
    public static void main(String[] args) throws Exception {
        var beans = java.lang.management.ManagementFactory.getPlatformMBeanServer();
        System.out.println(beans.isRegistered(
            new javax.management.ObjectName("com.sun.management:type=HotSpotDiagnostic")));
    }
}
