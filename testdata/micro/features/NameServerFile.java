package features;

/*
 * The name server's context factory stands in a jndi.properties file.
 * source: Java SE API javax.naming.Context, JNDI/DNS Guide of the JDK
 * module: jdk.naming.dns
 * also: java.naming
 * effect: breaks
 */
class NameServerFile {
    public static void main(String[] args) throws Exception {
        System.out.println(new javax.naming.InitialContext().getEnvironment().size() > 0);
        new javax.naming.InitialContext().getNameInNamespace();
    }
}
