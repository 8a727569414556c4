package features;

/*
 * A key pair generator for elliptic curves is asked for: its provider moved into java.base with release 22.
 * source: JDK-8308398, JCA Standard Algorithm Names
 * module: jdk.crypto.ec
 * effect: breaks on 17, fine on 25
 */
class EllipticKeys {
    public static void main(String[] args) throws Exception {
        System.out.println(java.security.KeyPairGenerator.getInstance("EC").getAlgorithm());
    }
}
