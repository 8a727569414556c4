package inspect;

import java.lang.management.ManagementFactory;
import java.util.List;
import javax.management.ObjectName;

/*
 * A bean has an attribute that is a list of objects of a class of its own: the platform reads them by their getters.
 * source: Java SE API javax.management.MXBean, "Type Mapping Rules"
 * also: java.management
 * effect: breaks
 */
public class OpenDataOfList {
    public static class Reading {
        public int getLevel() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    public interface GaugeMXBean {
        List<Reading> getReadings();
    }

    public static class Gauge implements GaugeMXBean {
        public List<Reading> getReadings() {
            return List.of(new Reading());
        }
    }

    public static void main(String[] args) throws Exception {
        var server = ManagementFactory.getPlatformMBeanServer();
        var name = new ObjectName("tide:type=Gauge");
        server.registerMBean(new Gauge(), name);
        System.out.println(((Object[]) server.getAttribute(name, "Readings")).length);
    }
}
