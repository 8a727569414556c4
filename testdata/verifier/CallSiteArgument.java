package verifier;

/*
 * A lambda captures a value of a missing class as what a call site takes for its superclass.
 * source: JVMS §4.10.1.9 invokedynamic
 * breaks: java/sql/Timestamp
 */
class CallSiteArgument {
    private static java.util.function.LongSupplier later(java.sql.Timestamp high) {
        java.util.Date date = high;
        return () -> date.getTime();
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
