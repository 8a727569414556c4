package calls;

/*
 * A static method of an interface needs a missing class.
 * source: Reif et al., ISSTA 2019, default interface methods
 * effect: breaks
 * category: Default interface methods
 */
class InterfaceStatic {
    interface Clock {
        static int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) {
        System.out.println(Clock.nanos());
    }
}
