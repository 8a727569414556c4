package features;

/*
 * A certificate store in a directory is asked for: the error tells whether there is such a kind.
 * source: JCA Standard Algorithm Names, CertStore
 * module: java.naming
 * effect: degrades
 */
class CertificateStore {
    public static void main(String[] args) {
        var where = new java.security.cert.LDAPCertStoreParameters("127.0.0.1", 1);
        try {
            System.out.println(java.security.cert.CertStore.getInstance("LDAP", where).getType());
        } catch (java.security.GeneralSecurityException error) {
            System.out.println(error.getClass().getSimpleName());
        }
    }
}
