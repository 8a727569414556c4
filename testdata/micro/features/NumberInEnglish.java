package features;

/*
 * A number is formatted for the root locale and for the United States.
 * source: Unicode CLDR
 * module: jdk.localedata
 * effect: fine
 */
class NumberInEnglish {
    public static void main(String[] args) {
        System.out.println(java.text.NumberFormat.getInstance(java.util.Locale.US).format(1234.5)
            + String.format(java.util.Locale.ROOT, "%.2f", 2.12));
    }
}
