package features;

/*
 * The attribute of a bean to be watched stands in a property file.
 * source: module jdk.management; observed
 * effect: breaks
 * packed: yes
 * module: jdk.management
 * also: java.management
 */
public class AttributeInProperties {
    public static void main(String[] args) throws Exception {
        var settings = new java.util.Properties();
        try (var file = AttributeInProperties.class.getResourceAsStream("/gauges.properties")) {
            settings.load(file);
        }
        var server = java.lang.management.ManagementFactory.getPlatformMBeanServer();
        var bean = new javax.management.ObjectName("java.lang:type=OperatingSystem");
        System.out.println(server.getAttribute(bean, settings.getProperty("watched")) != null);
    }
}
