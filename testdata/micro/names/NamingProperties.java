package names;

/*
 * The factory of naming contexts stands in jndi.properties.
 * source: Java SE API javax.naming.Context
 * effect: breaks
 * packed: yes
 * also: java.naming
 */
public class NamingProperties {
    public static class Quay implements javax.naming.spi.InitialContextFactory {
        public javax.naming.Context getInitialContext(java.util.Hashtable<?, ?> settings) {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
            Class<?>[] types = {javax.naming.Context.class};
            var loader = Quay.class.getClassLoader();
            return (javax.naming.Context) java.lang.reflect.Proxy.newProxyInstance(loader, types, (of, m, given) -> null);
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(new javax.naming.InitialContext().lookup("gauge") == null);
    }
}
