package link;

/*
 * An own subclass of a missing class is handed over where a class that is present is expected.
 * source: JVMS §4.10.1.2, §5.3.5
 * effect: breaks
 * category: Type casts
 */
class OwnSubclassAsPresentClass {
    static class Reading extends java.sql.Date {
        Reading() { super(0L); }
    }

    private static void show(java.util.Date date) { }
    private static void take(Reading reading) { show(reading); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
