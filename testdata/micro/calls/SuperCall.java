package calls;

/*
 * An overriding method calls the overridden one, which needs a missing class.
 * source: Reif et al., ISSTA 2019, non-virtual calls
 * effect: breaks
 * category: Non-virtual calls
 */
class SuperCall {
    static class Gauge {
        int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    static class Float_ extends Gauge {
        @Override int nanos() { return super.nanos() + 1; }
    }

    public static void main(String[] args) {
        System.out.println(new Float_().nanos());
    }
}
