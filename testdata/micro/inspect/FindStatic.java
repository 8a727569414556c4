package inspect;

/*
 * A method handle is looked up in a class whose other methods mention a missing type.
 * source: JVMS §5.4.3.3, Java SE API MethodHandles.Lookup
 * effect: fine
 * category: Modern reflection
 */
class FindStatic {
    static void store(java.sql.Connection connection) { }
    static int level() { return 212; }

    public static void main(String[] args) throws Throwable {
        var type = java.lang.invoke.MethodType.methodType(int.class);
        var handle = java.lang.invoke.MethodHandles.lookup().findStatic(FindStatic.class, "level", type);
        System.out.println((int) handle.invokeExact());
    }
}
