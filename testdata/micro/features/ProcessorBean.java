package features;

/*
 * The operating system's bean is cast to its extended type.
 * source: module jdk.management
 * module: jdk.management
 * also: java.management
 * effect: breaks
 */
class ProcessorBean {
    public static void main(String[] args) {
        var bean = java.lang.management.ManagementFactory.getOperatingSystemMXBean();
        System.out.println(((com.sun.management.OperatingSystemMXBean) bean).getProcessCpuTime() != 0);
    }
}
