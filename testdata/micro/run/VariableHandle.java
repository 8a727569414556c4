package run;

/*
 * A variable handle is read with a missing type as the call's result.
 * source: JVMS §2.9.3
 * effect: breaks
 * category: Signature-polymorphic
 */
class VariableHandle {
    static Object held;

    public static void main(String[] args) throws Exception {
        var handle = java.lang.invoke.MethodHandles.lookup()
            .findStaticVarHandle(VariableHandle.class, "held", Object.class);
        java.sql.Date date = (java.sql.Date) handle.get();
        System.out.println(date == null);
    }
}
