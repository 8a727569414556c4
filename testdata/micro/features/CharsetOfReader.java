package features;

/*
 * A reader decodes mail from Japan.
 * source: JDK Supported Encodings
 * module: jdk.charsets
 * effect: breaks
 */
class CharsetOfReader {
    public static void main(String[] args) throws Exception {
        var in = new java.io.ByteArrayInputStream(new byte[] {'2', '1', '2'});
        System.out.println(new java.io.InputStreamReader(in, "ISO-2022-JP").read());
    }
}
