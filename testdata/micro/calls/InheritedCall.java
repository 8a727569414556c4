package calls;

/*
 * A call on a subclass reaches the method it inherits, which needs a missing class.
 * source: Reif et al., ISSTA 2019, virtual calls
 * effect: breaks
 * category: Virtual calls
 */
class InheritedCall {
    static class Clock {
        int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    static class Coarse extends Clock { }

    public static void main(String[] args) {
        System.out.println(new Coarse().nanos());
    }
}
