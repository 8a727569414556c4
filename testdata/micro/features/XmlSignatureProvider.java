package features;

/*
 * The provider of signatures of documents is asked for by name.
 * source: JDK Providers Documentation
 * module: java.xml.crypto
 * effect: degrades
 */
class XmlSignatureProvider {
    public static void main(String[] args) {
        System.out.println(java.security.Security.getProvider("XMLDSig"));
    }
}
