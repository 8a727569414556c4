package platform;

/*
 * A reference names the factory that makes its object.
 * source: Java SE API NamingManager.getObjectInstance
 * effect: breaks
 * also: java.naming
 */
public class NamingFactory {
    public static class Factory implements javax.naming.spi.ObjectFactory {
        public Object getObjectInstance(Object o, javax.naming.Name n, javax.naming.Context c,
            java.util.Hashtable<?, ?> e) {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) throws Exception {
        var r = new javax.naming.Reference("Gauge", "platform.NamingFactory$Factory", null);
        System.out.println(javax.naming.spi.NamingManager.getObjectInstance(r, null, null, null).equals(0));
    }
}
