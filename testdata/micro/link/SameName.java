package link;

/*
 * A value of a missing type is handed over where the same type is expected.
 * source: JVMS §4.10.1.2
 * effect: fine
 */
class SameName {
    private static java.sql.Date same(java.sql.Date date) { return date; }
    private static java.sql.Date twice(java.sql.Date date) { return same(same(date)); }

    public static void main(String[] args) {
        System.out.println(twice(null) == null);
    }
}
