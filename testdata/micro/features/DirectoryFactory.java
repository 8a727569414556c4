package features;

/*
 * The directory's context factory is looked up by name.
 * source: JNDI/LDAP Guide of the JDK
 * module: java.naming
 * effect: breaks
 */
class DirectoryFactory {
    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName("com.sun.jndi.ldap.LdapCtxFactory").getSimpleName());
    }
}
