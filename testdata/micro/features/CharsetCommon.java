package features;

/*
 * Charsets are looked up that java.base has on every system.
 * source: Java SE API java.nio.charset.StandardCharsets
 * module: jdk.charsets
 * effect: fine
 */
class CharsetCommon {
    public static void main(String[] args) throws Exception {
        System.out.println(new String("212 cm".getBytes("UTF-16"), "UTF-16")
            + java.nio.charset.Charset.forName("ISO-8859-1"));
    }
}
