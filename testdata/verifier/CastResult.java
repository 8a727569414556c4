package verifier;

/*
 * What a cast to a missing class yields is handed over where a present class is expected.
 * source: JVMS §4.10.1.9 checkcast
 * breaks: java/sql/Timestamp
 */
class CastResult {
    private static long at(java.util.Date date) { return date.getTime(); }
    private static long of(Object tide) { return at((java.sql.Timestamp) tide); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
