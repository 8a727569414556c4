package load;

/*
 * A class literal names a class whose superclass is missing.
 * source: JVMS §5.3.5 step 3, §6.5 ldc
 * effect: breaks
 */
class LiteralOfSubclass {
    static class Reading extends java.sql.Timestamp {
        Reading() { super(0L); }
    }

    public static void main(String[] args) {
        System.out.println(Reading.class.getSimpleName());
    }
}
