package features;

/*
 * The remote object registry's context factory is given by name.
 * source: JNDI/RMI Registry Guide of the JDK
 * module: jdk.naming.rmi
 * also: java.naming
 * effect: breaks
 */
class RegistryContext {
    public static void main(String[] args) throws Exception {
        var settings = new java.util.Hashtable<String, String>();
        settings.put(javax.naming.Context.INITIAL_CONTEXT_FACTORY,
            "com.sun.jndi.rmi.registry.RegistryContextFactory");
        System.out.println(new javax.naming.InitialContext(settings).getEnvironment().size());
    }
}
