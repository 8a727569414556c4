package features;

/*
 * All beans are listed, with all that they have.
 * source: Java SE API MBeanServerConnection.queryNames
 * module: jdk.management
 * also: java.management
 * effect: degrades
 */
class BeansListed {
    public static void main(String[] args) throws Exception {
        var beans = java.lang.management.ManagementFactory.getPlatformMBeanServer();
        boolean any = false;
        for (var name : beans.queryNames(null, null)) {
            for (var attribute : beans.getMBeanInfo(name).getAttributes()) {
                any |= attribute.getName().contains("Swap");
            }
        }
        System.out.println(any);
    }
}
