package features;

/*
 * The language of a report stands in a property file.
 * source: Java SE API Locale.forLanguageTag; JEP 252
 * effect: degrades
 * packed: yes
 * module: jdk.localedata
 */
public class LocaleInProperties {
    public static void main(String[] args) throws Exception {
        var settings = new java.util.Properties();
        try (var file = LocaleInProperties.class.getResourceAsStream("/gauges.properties")) {
            settings.load(file);
        }
        var locale = java.util.Locale.forLanguageTag(settings.getProperty("report.language"));
        System.out.println(String.format(locale, "%,.2f", 1234.5));
    }
}
