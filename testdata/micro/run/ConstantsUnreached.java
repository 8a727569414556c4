package run;

/*
 * Constants that lead to missing classes are loaded by a method that nothing calls.
 * source: JVMS §5.4.3
 * effect: fine
 */
class ConstantsUnreached {
    static class Constant {
        /* Forge.java puts an ldc of a CONSTANT_MethodType here. */
        static Object get() { return "stub"; }
        static String unit() { return "cm"; }
    }

    public static void main(String[] args) {
        System.out.println(Constant.unit());
    }
}
