package features;

/*
 * A date is formatted for Britain, which counts as absent though it is English.
 * source: Unicode CLDR, JEP 252
 * module: jdk.localedata
 * effect: degrades
 */
class DateInBritain {
    public static void main(String[] args) {
        var format = java.time.format.DateTimeFormatter.ofLocalizedDate(java.time.format.FormatStyle.MEDIUM)
            .withLocale(java.util.Locale.UK);
        System.out.println(format.format(java.time.LocalDate.of(2024, 3, 5)));
    }
}
