package features;

/*
 * A key agreement over Montgomery curves is asked for.
 * source: JDK-8308398, JEP 324
 * module: jdk.crypto.ec
 * effect: breaks on 17, fine on 25
 */
class Agreement {
    public static void main(String[] args) throws Exception {
        System.out.println(javax.crypto.KeyAgreement.getInstance("X25519").getAlgorithm());
    }
}
