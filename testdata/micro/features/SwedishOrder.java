package features;

/*
 * Words are sorted the Swedish way.
 * source: Unicode CLDR, JEP 252
 * module: jdk.localedata
 * effect: degrades
 */
class SwedishOrder {
    public static void main(String[] args) {
        var collator = java.text.Collator.getInstance(new java.util.Locale("sv"));
        System.out.println(Integer.signum(collator.compare("\u00f6", "z")));
    }
}
