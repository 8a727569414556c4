package features;

/*
 * A management server binds itself under a jndi/rmi address.
 * source: Java SE API javax.management.remote.rmi
 * module: jdk.naming.rmi
 * also: java.management.rmi
 * effect: breaks
 */
class ManagementRegistry {
    public static void main(String[] args) throws Exception {
        int port;
        try (var free = new java.net.ServerSocket(0)) {
            port = free.getLocalPort();
        }
        java.rmi.registry.LocateRegistry.createRegistry(port);
        var address = new javax.management.remote.JMXServiceURL(
            "service:jmx:rmi:///jndi/rmi://127.0.0.1:" + port + "/gauges");
        var server = javax.management.remote.JMXConnectorServerFactory.newJMXConnectorServer(
            address, null, java.lang.management.ManagementFactory.getPlatformMBeanServer());
        server.start();
        System.out.println(server.isActive());
        System.exit(0);
    }
}
