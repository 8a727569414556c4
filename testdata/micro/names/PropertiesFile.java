package names;

/*
 * A name stands in a properties file on the class path.
 * source: Java SE API java.util.Properties
 * effect: breaks
 * category: Reflection: context-sensitive
 */
class PropertiesFile {
    public static void main(String[] args) throws Exception {
        var settings = new java.util.Properties();
        try (var in = PropertiesFile.class.getResourceAsStream("/gauges.properties")) {
            settings.load(in);
        }
        System.out.println(Class.forName(settings.getProperty("store.driver")).isInterface());
    }
}
