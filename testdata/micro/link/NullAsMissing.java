package link;

/*
 * Null is handed over where a missing class is expected.
 * source: JVMS §4.10.1.2
 * effect: fine
 */
class NullAsMissing {
    private static void show(java.sql.Date date) { System.out.println("no date"); }

    public static void main(String[] args) {
        show(null);
    }
}
