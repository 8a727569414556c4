package verifier;

/*
 * Values of two slots stand before a value of a missing class, which goes where a present class is expected.
 * source: JVMS §4.10.1.7
 * breaks: java/sql/Date
 */
class LongsBefore {
    private static double add(long first, double second, java.util.Date date) { return first + second + date.getTime(); }

    private static double sum(double second, long first, java.sql.Date date) {
        double total = 0;
        for (long tide = 0; tide < first; tide++) {
            total += add(tide, second, date);
        }
        return total;
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
