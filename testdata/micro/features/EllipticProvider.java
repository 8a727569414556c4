package features;

/*
 * The provider of elliptic curves is asked for by name.
 * source: JDK Providers Documentation
 * module: jdk.crypto.ec
 * effect: degrades on 17, fine on 25
 */
class EllipticProvider {
    public static void main(String[] args) {
        System.out.println(java.security.Security.getProvider("SunEC"));
    }
}
