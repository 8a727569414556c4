package features;

/*
 * A factory for signatures of documents is asked for.
 * source: Java SE API javax.xml.crypto.dsig
 * module: java.xml.crypto
 * effect: breaks
 */
class XmlSignature {
    public static void main(String[] args) {
        System.out.println(javax.xml.crypto.dsig.XMLSignatureFactory.getInstance("DOM").getMechanismType());
    }
}
