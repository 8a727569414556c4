package run;

/*
 * A method handle constant for a method of a missing class is loaded.
 * source: JVMS §5.4.3.5, §6.5 ldc
 * effect: breaks
 * category: Signature-polymorphic
 */
class HandleConstant {
    static class Constant {
        /* Forge.java puts an ldc of a CONSTANT_MethodHandle here. */
        static Object get() { return "stub"; }
    }

    public static void main(String[] args) {
        System.out.println(Constant.get());
    }
}
