package features;

/*
 * A number is formatted for the default locale, which an option at launch sets to German.
 * source: Java SE API Locale.getDefault
 * module: jdk.localedata
 * told: launch
 * options: -Duser.language=de -Duser.country=DE
 * effect: degrades
 */
class LanguageOption {
    public static void main(String[] args) {
        System.out.println(java.text.NumberFormat.getInstance().format(1234.5));
    }
}
