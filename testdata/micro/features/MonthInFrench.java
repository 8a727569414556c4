package features;

/*
 * A date is formatted in French.
 * source: Unicode CLDR, JEP 252
 * module: jdk.localedata
 * effect: degrades
 */
class MonthInFrench {
    public static void main(String[] args) {
        var format = java.time.format.DateTimeFormatter.ofPattern("d MMMM", java.util.Locale.FRENCH);
        System.out.println(format.format(java.time.LocalDate.of(2024, 3, 5)));
    }
}
