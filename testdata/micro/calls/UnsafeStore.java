package calls;

/*
 * An object is put into a field past the compiler, and called there; its method needs a missing class.
 * source: Reif et al., ISSTA 2019, Unsafe
 * also: jdk.unsupported
 * effect: breaks
 * category: Unsafe
 */
class UnsafeStore {
    interface Clock { int nanos(); }

    static class Precise implements Clock {
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    Clock clock;

    public static void main(String[] args) throws Exception {
        var field = sun.misc.Unsafe.class.getDeclaredField("theUnsafe");
        field.setAccessible(true);
        var unsafe = (sun.misc.Unsafe) field.get(null);
        var gauge = new UnsafeStore();
        unsafe.putObject(gauge, unsafe.objectFieldOffset(UnsafeStore.class.getDeclaredField("clock")), new Precise());
        System.out.println(gauge.clock.nanos());
    }
}
