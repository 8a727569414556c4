package link;

/*
 * A class file of version 49 has missing types, but none meet.
 * source: JVMS §4.10.2.2
 * effect: fine
 * version: 49
 */
class OldPlain {
    private static java.sql.Date same(java.sql.Date date) { return date; }

    public static void main(String[] args) {
        System.out.println(same(null) == null);
    }
}
