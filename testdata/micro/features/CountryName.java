package features;

/*
 * The name of a country is asked for in the language of a tag.
 * source: Unicode CLDR, BCP 47
 * module: jdk.localedata
 * effect: degrades
 */
class CountryName {
    public static void main(String[] args) {
        System.out.println(java.util.Locale.GERMANY.getDisplayCountry(java.util.Locale.forLanguageTag("nl")));
    }
}
