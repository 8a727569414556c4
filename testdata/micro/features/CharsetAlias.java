package features;

/*
 * Bytes are decoded with a charset given by its alias in small letters.
 * source: JDK Supported Encodings, Java SE API Charset
 * module: jdk.charsets
 * effect: breaks
 */
class CharsetAlias {
    public static void main(String[] args) throws Exception {
        System.out.println(new String(new byte[] {(byte) 0xc1}, "cp1047"));
    }
}
