package features;

/*
 * A signature algorithm over Edwards curves is asked for.
 * source: JDK-8308398, JEP 339
 * module: jdk.crypto.ec
 * effect: breaks on 17, fine on 25
 */
class EdwardsSignature {
    public static void main(String[] args) throws Exception {
        System.out.println(java.security.Signature.getInstance("Ed25519").getAlgorithm());
    }
}
