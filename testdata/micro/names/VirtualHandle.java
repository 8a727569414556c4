package names;

/*
 * An own virtual method is called through a method handle; the receiver's class overrides it and needs a missing class.
 * source: Reif et al., ISSTA 2019, modern reflection
 * effect: breaks
 * category: Modern reflection
 */
class VirtualHandle {
    int nanos() { return 0; }

    static class Precise extends VirtualHandle {
        @Override int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) throws Throwable {
        var type = java.lang.invoke.MethodType.methodType(int.class);
        var handle = java.lang.invoke.MethodHandles.lookup().findVirtual(VirtualHandle.class, "nanos", type);
        VirtualHandle clock = new Precise();
        System.out.println((int) handle.invokeExact(clock));
    }
}
