package calls;

/*
 * The default method of an interface needs a missing class, but the class created overrides it.
 * source: JVMS §5.4.6
 * effect: fine
 * category: Default interface methods
 */
class DefaultOverridden {
    interface Clock {
        default int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    static class Coarse implements Clock {
        public int nanos() { return 0; }
    }

    public static void main(String[] args) {
        Clock clock = new Coarse();
        System.out.println(clock.nanos());
    }
}
