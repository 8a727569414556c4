package names;

/*
 * An own constructor is called through a method handle; it needs a missing class.
 * source: Reif et al., ISSTA 2019, modern reflection
 * effect: breaks
 * category: Modern reflection
 */
class ConstructorHandle {
    final int nanos = new java.sql.Timestamp(0L).getNanos();

    public static void main(String[] args) throws Throwable {
        var type = java.lang.invoke.MethodType.methodType(void.class);
        var handle = java.lang.invoke.MethodHandles.lookup().findConstructor(ConstructorHandle.class, type);
        System.out.println(((ConstructorHandle) handle.invokeExact()).nanos);
    }
}
