package run;

/*
 * A dynamically computed constant has a missing class among its bootstrap arguments.
 * source: JEP 309, JVMS §5.4.3.6
 * effect: breaks
 */
class DynamicConstant {
    static Object bootstrap(java.lang.invoke.MethodHandles.Lookup lookup, String name, Class<?> type, Class<?> value) {
        return value.getSimpleName();
    }

    static class Constant {
        /* Forge.java puts an ldc of a CONSTANT_Dynamic here. */
        static Object get() { return "stub"; }
    }

    public static void main(String[] args) {
        System.out.println(Constant.get());
    }
}
