package features;

/*
 * The provider for cryptographic tokens is asked for by name.
 * source: JDK PKCS#11 Reference Guide
 * module: jdk.crypto.cryptoki
 * also: jdk.crypto.ec
 * effect: degrades
 */
class Token {
    public static void main(String[] args) {
        System.out.println(java.security.Security.getProvider("SunPKCS11"));
    }
}
