package features;

/*
 * All charsets are listed.
 * source: Java SE API Charset.availableCharsets
 * module: jdk.charsets
 * effect: degrades
 */
class CharsetList {
    public static void main(String[] args) {
        System.out.println(java.nio.charset.Charset.availableCharsets().containsKey("IBM037"));
    }
}
