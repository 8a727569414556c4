package verifier;

/*
 * An element of an array of a missing class is handed over where a present class is expected.
 * source: JVMS §4.10.1.9 aaload
 * breaks: java/sql/Date
 */
class ArrayElement {
    private static long at(java.util.Date date) { return date.getTime(); }
    private static long first(java.sql.Date[] tides) { return at(tides[0]); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
