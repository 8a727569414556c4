package platform;

/*
 * A managed object is registered whose interface has a type that is not there.
 * source: JMX specification, standard MBeans
 * effect: breaks
 * also: java.management
 */
public class ManagedSignature {
    public interface GaugeMBean {
        java.sql.Timestamp getLast();
    }

    public static class Gauge implements GaugeMBean {
        public java.sql.Timestamp getLast() {
            return null;
        }
    }

    public static void main(String[] args) throws Exception {
        var server = java.lang.management.ManagementFactory.getPlatformMBeanServer();
        var name = new javax.management.ObjectName("tide:type=Gauge");
        System.out.println(server.registerMBean(new Gauge(), name) != null);
    }
}
