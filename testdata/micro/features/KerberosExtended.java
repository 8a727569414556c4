package features;

/*
 * An extension of the security services is named.
 * source: module jdk.security.jgss
 * module: jdk.security.jgss
 * effect: breaks
 */
class KerberosExtended {
    public static void main(String[] args) {
        System.out.println(com.sun.security.jgss.InquireType.values().length > 0);
    }
}
