package run;

/*
 * A method handle is called with a missing type in the call's descriptor.
 * source: JVMS §5.4.3.3, §2.9.3
 * effect: breaks
 * category: Signature-polymorphic
 */
class InvokeExact {
    static void close(Object connection) { }

    public static void main(String[] args) throws Throwable {
        var type = java.lang.invoke.MethodType.methodType(void.class, Object.class);
        var handle = java.lang.invoke.MethodHandles.lookup().findStatic(InvokeExact.class, "close", type);
        handle.invoke((java.sql.Connection) null);
        System.out.println("closed");
    }
}
