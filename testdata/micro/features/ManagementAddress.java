package features;

/*
 * A management client is made for an rmi address.
 * source: Java SE API JMXConnectorFactory
 * module: java.management.rmi
 * also: java.management
 * effect: breaks
 */
class ManagementAddress {
    public static void main(String[] args) throws Exception {
        var address = new javax.management.remote.JMXServiceURL("service:jmx:rmi:///jndi/rmi://127.0.0.1:1/jmxrmi");
        System.out.println(javax.management.remote.JMXConnectorFactory.newJMXConnector(address, null) != null);
    }
}
