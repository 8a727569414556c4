package link;

/*
 * A value of a missing type is handed over where another missing class is expected.
 * source: JVMS §4.10.1.2, HotSpot verificationType.cpp
 * effect: breaks
 * category: Type casts
 */
class AsMissingClass {
    private static void show(java.sql.SQLException error) { }
    private static void take(java.sql.BatchUpdateException error) { show(error); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
