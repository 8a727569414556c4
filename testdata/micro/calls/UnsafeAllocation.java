package calls;

/*
 * An object is allocated without a constructor; its method, called through an interface, needs a missing class.
 * source: Reif et al., ISSTA 2019, Unsafe
 * also: jdk.unsupported
 * effect: breaks
 * category: Unsafe
 */
class UnsafeAllocation {
    interface Clock { int nanos(); }

    static class Precise implements Clock {
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) throws Exception {
        var field = sun.misc.Unsafe.class.getDeclaredField("theUnsafe");
        field.setAccessible(true);
        var unsafe = (sun.misc.Unsafe) field.get(null);
        System.out.println(((Clock) unsafe.allocateInstance(Precise.class)).nanos());
    }
}
