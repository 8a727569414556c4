package platform;

/*
 * An attribute of a managed object is read by its name.
 * source: JMX specification, standard MBeans
 * effect: breaks
 * also: java.management
 */
public class ManagedAttribute {
    public interface GaugeMBean {
        int getNanos();
    }

    public static class Gauge implements GaugeMBean {
        public int getNanos() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) throws Exception {
        var server = java.lang.management.ManagementFactory.getPlatformMBeanServer();
        var name = new javax.management.ObjectName("tide:type=Gauge");
        server.registerMBean(new Gauge(), name);
        System.out.println(server.getAttribute(name, "Nanos"));
    }
}
