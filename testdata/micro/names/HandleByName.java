package names;

/*
 * An own method is called through a method handle; it needs a missing class.
 * source: Reif et al., ISSTA 2019, modern reflection
 * effect: breaks
 * category: Modern reflection
 */
class HandleByName {
    static int nanos() { return new java.sql.Timestamp(0L).getNanos(); }

    public static void main(String[] args) throws Throwable {
        var type = java.lang.invoke.MethodType.methodType(int.class);
        var handle = java.lang.invoke.MethodHandles.lookup().findStatic(HandleByName.class, "nanos", type);
        System.out.println((int) handle.invokeExact());
    }
}
