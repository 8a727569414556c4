package features;

/*
 * A message digest is asked for, which java.base has.
 * source: JDK Providers Documentation
 * module: jdk.crypto.ec
 * effect: fine
 */
class Digest {
    public static void main(String[] args) throws Exception {
        System.out.println(java.security.MessageDigest.getInstance("SHA-256").getDigestLength());
    }
}
