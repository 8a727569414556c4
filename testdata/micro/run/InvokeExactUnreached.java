package run;

/*
 * A method handle would be called with a missing type in the call's descriptor, were the method called.
 * source: JVMS §2.9.3
 * effect: fine
 * category: Signature-polymorphic
 */
class InvokeExactUnreached {
    private static void close(java.lang.invoke.MethodHandle handle) throws Throwable {
        handle.invokeExact((java.sql.Connection) null);
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
