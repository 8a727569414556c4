package calls;

/*
 * A call reaches the default method of an interface, which needs a missing class.
 * source: Reif et al., ISSTA 2019, default interface methods
 * effect: breaks
 * category: Default interface methods
 */
class DefaultMethod {
    interface Clock {
        default int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    static class Coarse implements Clock { }

    public static void main(String[] args) {
        System.out.println(new Coarse().nanos());
    }
}
