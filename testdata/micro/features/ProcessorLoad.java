package features;

/*
 * An attribute of the operating system's bean is read that only the extended bean has.
 * source: module jdk.management
 * module: jdk.management
 * also: java.management
 * effect: breaks
 */
class ProcessorLoad {
    public static void main(String[] args) throws Exception {
        var beans = java.lang.management.ManagementFactory.getPlatformMBeanServer();
        var name = new javax.management.ObjectName("java.lang:type=OperatingSystem");
        System.out.println(beans.getAttribute(name, "AvailableProcessors") != null);
        System.out.println(beans.getAttribute(name, "TotalSwapSpaceSize") != null);
    }
}
