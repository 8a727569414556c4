package features;

/*
 * A key pair generator for RSA is asked for, which java.base has.
 * source: JDK Providers Documentation
 * module: jdk.crypto.ec
 * effect: fine
 */
class RsaKeys {
    public static void main(String[] args) throws Exception {
        System.out.println(java.security.KeyPairGenerator.getInstance("RSA").getAlgorithm());
    }
}
