package link;

/*
 * Two missing types meet where a stack map frame records Object.
 * source: JVMS §4.7.4, §4.10.1.2
 * effect: fine
 */
class MergeAsObject {
    private static boolean either(boolean first, java.sql.Date date, java.sql.Connection connection) {
        Object thing;
        if (first) thing = date; else thing = connection;
        return thing == null;
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
