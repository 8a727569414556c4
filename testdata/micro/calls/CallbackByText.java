package calls;

/*
 * Printing an object calls its text method, which needs a missing class.
 * source: Sui et al., ICSE 2020, calls from the platform
 * effect: breaks
 * category: Virtual calls
 */
class CallbackByText {
    @Override public String toString() { return "nanos " + new java.sql.Timestamp(0L).getNanos(); }

    public static void main(String[] args) {
        System.out.println(new CallbackByText());
    }
}
