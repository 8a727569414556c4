package calls;

/*
 * A constructor calls its superclass's, which needs a missing class.
 * source: Reif et al., ISSTA 2019, non-virtual calls
 * effect: breaks
 * category: Non-virtual calls
 */
class Constructors {
    static class Gauge {
        final int nanos;
        Gauge() { nanos = new java.sql.Timestamp(0L).getNanos(); }
    }

    static class Float_ extends Gauge { }

    public static void main(String[] args) {
        System.out.println(new Float_().nanos);
    }
}
