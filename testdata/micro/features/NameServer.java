package features;

/*
 * The name server's context factory is given by name.
 * source: JNDI/DNS Guide of the JDK
 * module: jdk.naming.dns
 * also: java.naming
 * effect: breaks
 */
class NameServer {
    public static void main(String[] args) throws Exception {
        var settings = new java.util.Hashtable<String, String>();
        settings.put("java.naming.factory.initial", "com.sun.jndi.dns.DnsContextFactory");
        settings.put("java.naming.provider.url", "dns://127.0.0.1/");
        System.out.println(new javax.naming.directory.InitialDirContext(settings).getEnvironment().size());
    }
}
