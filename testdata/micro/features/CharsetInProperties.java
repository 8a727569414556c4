package features;

/*
 * The name of a charset stands in a property file.
 * source: Java SE API Charset.forName; JDK Supported Encodings
 * effect: breaks
 * packed: yes
 * module: jdk.charsets
 */
public class CharsetInProperties {
    public static void main(String[] args) throws Exception {
        var settings = new java.util.Properties();
        try (var file = CharsetInProperties.class.getResourceAsStream("/gauges.properties")) {
            settings.load(file);
        }
        System.out.println("tide".getBytes(settings.getProperty("archive.encoding"))[0]);
    }
}
