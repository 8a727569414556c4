package platform;

/*
 * Properties of a bean are read one by one.
 * source: Java SE API java.beans.Introspector
 * effect: breaks
 * also: java.desktop
 */
public class Beans {
    public static class Gauge {
        public int getNanos() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) throws Exception {
        for (var property : java.beans.Introspector.getBeanInfo(Gauge.class).getPropertyDescriptors()) {
            System.out.println(property.getReadMethod().invoke(new Gauge()));
        }
    }
}
