package features;

/*
 * The operations of the bean for diagnostic commands are listed.
 * source: Java SE API com.sun.management.DiagnosticCommandMBean
 * module: jdk.jfr
 * also: java.management jdk.management
 * effect: degrades
 */
class DiagnosticCommands {
    public static void main(String[] args) throws Exception {
        var beans = java.lang.management.ManagementFactory.getPlatformMBeanServer();
        var name = new javax.management.ObjectName("com.sun.management:type=DiagnosticCommand");
        System.out.println(beans.getMBeanInfo(name).getOperations().length > 5);
    }
}
