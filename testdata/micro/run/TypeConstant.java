package run;

/*
 * A method type constant with a missing parameter type is loaded.
 * source: JVMS §5.4.3.5, §6.5 ldc
 * effect: breaks
 * category: Signature-polymorphic
 */
class TypeConstant {
    static class Constant {
        /* Forge.java puts an ldc of a CONSTANT_MethodType here. */
        static Object get() { return "stub"; }
    }

    public static void main(String[] args) {
        System.out.println(Constant.get());
    }
}
