package calls;

/*
 * Sorting calls the comparison of the elements, which needs a missing class.
 * source: Sui et al., ICSE 2020, calls from the platform
 * effect: breaks
 * category: Virtual calls
 */
class CallbackBySort implements Comparable<CallbackBySort> {
    public int compareTo(CallbackBySort other) { return new java.sql.Timestamp(0L).getNanos(); }

    public static void main(String[] args) {
        var gauges = new java.util.ArrayList<>(java.util.List.of(new CallbackBySort(), new CallbackBySort()));
        java.util.Collections.sort(gauges);
        System.out.println(gauges.size());
    }
}
