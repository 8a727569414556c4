package features;

/*
 * A mainframe charset is looked up by name.
 * source: JDK Supported Encodings
 * module: jdk.charsets
 * effect: breaks
 */
class CharsetByName {
    public static void main(String[] args) {
        System.out.println(java.nio.charset.Charset.forName("IBM037").name());
    }
}
