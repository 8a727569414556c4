package features;

/*
 * A formatted string is made for France.
 * source: Unicode CLDR, Java SE API String.format
 * module: jdk.localedata
 * effect: degrades
 */
class FormatInFrench {
    public static void main(String[] args) {
        System.out.println(String.format(java.util.Locale.FRANCE, "%.2f", 2.12));
    }
}
