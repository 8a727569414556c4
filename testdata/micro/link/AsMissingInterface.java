package link;

/*
 * A value of a missing type is handed over where another missing interface is expected.
 * source: JVMS §4.10.1.2, HotSpot verificationType.cpp
 * effect: breaks
 * category: Type casts
 */
class AsMissingInterface {
    private static void wrap(java.sql.Wrapper thing) { }
    private static void take(java.sql.Connection connection) { wrap(connection); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
