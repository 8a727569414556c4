package features;

/*
 * A context for dns: addresses is asked for.
 * source: JNDI/DNS Guide of the JDK
 * module: jdk.naming.dns
 * also: java.naming
 * effect: degrades
 */
class NameServerAddress {
    public static void main(String[] args) throws Exception {
        Object context = javax.naming.spi.NamingManager.getURLContext("dns", new java.util.Hashtable<>());
        System.out.println(context != null);
    }
}
