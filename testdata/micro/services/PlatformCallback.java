package services;

/*
 * A provider of a platform service, which only the platform asks for, needs a missing class.
 * source: Java SE API java.nio.charset.spi.CharsetProvider
 * effect: breaks
 */
public class PlatformCallback {
    public static class Tides extends java.nio.charset.spi.CharsetProvider {
        public java.util.Iterator<java.nio.charset.Charset> charsets() { return java.util.Collections.emptyIterator(); }

        public java.nio.charset.Charset charsetForName(String name) {
            return name.equals("tides") && new java.sql.Timestamp(0L).getNanos() == 0
                ? java.nio.charset.StandardCharsets.UTF_8 : null;
        }
    }

    public static void main(String[] args) {
        System.out.println(java.nio.charset.Charset.forName("tides"));
    }
}
