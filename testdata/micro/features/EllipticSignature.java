package features;

/*
 * A signature algorithm over elliptic curves is asked for.
 * source: JDK-8308398, JCA Standard Algorithm Names
 * module: jdk.crypto.ec
 * effect: breaks on 17, fine on 25
 */
class EllipticSignature {
    public static void main(String[] args) throws Exception {
        System.out.println(java.security.Signature.getInstance("SHA256withECDSA").getAlgorithm());
    }
}
