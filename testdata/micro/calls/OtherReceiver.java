package calls;

/*
 * An interface call cannot reach the class that needs a missing class, since that class is never created.
 * source: Bacon and Sweeney, OOPSLA 1996
 * effect: fine
 * category: Virtual calls
 */
class OtherReceiver {
    interface Clock { int nanos(); }

    static class Precise implements Clock {
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    static class Coarse implements Clock {
        public int nanos() { return 0; }
    }

    private static Clock precise() { return new Precise(); }

    public static void main(String[] args) {
        Clock clock = new Coarse();
        System.out.println(clock.nanos());
    }
}
