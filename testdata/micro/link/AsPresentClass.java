package link;

/*
 * A value of a missing type is handed over where a class that is present is expected.
 * source: JVMS §4.10.1.2, HotSpot verificationType.cpp
 * effect: breaks
 * category: Type casts
 */
class AsPresentClass {
    private static void show(java.util.Date date) { }
    private static void take(java.sql.Date date) { show(date); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
