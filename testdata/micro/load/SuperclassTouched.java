package load;

/*
 * A class whose superclass is missing is created.
 * source: JVMS §5.3.5 step 3
 * effect: breaks
 */
class SuperclassTouched {
    static class Reading extends java.sql.Timestamp {
        Reading() { super(0L); }
    }

    public static void main(String[] args) {
        System.out.println(new Reading().getNanos());
    }
}
