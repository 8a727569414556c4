package features;

/*
 * The security service manager is named.
 * source: Java SE API org.ietf.jgss
 * module: java.security.jgss
 * effect: breaks
 */
class Kerberos {
    public static void main(String[] args) {
        System.out.println(org.ietf.jgss.GSSManager.getInstance().getMechs().length > 0);
    }
}
