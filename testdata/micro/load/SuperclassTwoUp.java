package load;

/*
 * A static call loads a class whose superclass's superclass is missing.
 * source: JVMS §5.3.5 step 3
 * effect: breaks
 */
class SuperclassTwoUp {
    static class Reading extends java.sql.Timestamp {
        Reading() { super(0L); }
    }

    static class TidalReading extends Reading {
        static String unit() { return "cm"; }
    }

    public static void main(String[] args) {
        System.out.println(TidalReading.unit());
    }
}
