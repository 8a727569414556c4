package features;

/*
 * A number is formatted for Germany.
 * source: Unicode CLDR, JEP 252
 * module: jdk.localedata
 * effect: degrades
 */
class NumberInGerman {
    public static void main(String[] args) {
        System.out.println(java.text.NumberFormat.getInstance(java.util.Locale.GERMANY).format(1234.5));
    }
}
