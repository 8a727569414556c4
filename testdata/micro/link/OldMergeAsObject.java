package link;

/*
 * The same in a class file of version 49: the old verifier works the merged type out and loads both.
 * source: JVMS §4.10.2.2
 * effect: breaks
 * version: 49
 */
class OldMergeAsObject {
    private static boolean either(boolean first, java.sql.Date date, java.sql.Connection connection) {
        Object thing;
        if (first) thing = date; else thing = connection;
        return thing == null;
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
