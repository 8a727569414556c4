package features;

/*
 * A library has one helper for all kinds of algorithms, which finds `getInstance` by reflection: what is asked for shows
 * by the name of the signature alone.
 * source: JDK-8308398, JCA Standard Algorithm Names
 * module: jdk.crypto.ec
 * effect: breaks on 17, fine on 25
 */
class EllipticByReflection {
    static Object create(Class<?> kind, String algorithm) throws Exception {
        return kind.getMethod("getInstance", String.class).invoke(null, algorithm);
    }

    public static void main(String[] args) throws Exception {
        System.out.println(create(java.security.Signature.class, "SHA256withECDSA") != null);
    }
}
