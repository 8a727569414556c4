package load;

/*
 * A class whose superclass is missing is never touched.
 * source: JVMS §5.3.5 step 3
 * effect: fine
 */
class SuperclassUntouched {
    static class Reading extends java.sql.Timestamp {
        Reading() { super(0L); }
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
