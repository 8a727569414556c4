package calls;

/*
 * An interface call reaches the one class that is created, and that needs a missing class.
 * source: Reif et al., ISSTA 2019, virtual calls
 * effect: breaks
 * category: Virtual calls
 */
class Dispatched {
    interface Clock { int nanos(); }

    static class Precise implements Clock {
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) {
        Clock clock = new Precise();
        System.out.println(clock.nanos());
    }
}
