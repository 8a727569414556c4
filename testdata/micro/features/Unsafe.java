package features;

/*
 * The unsafe class is taken by name from its field.
 * source: module jdk.unsupported, JEP 260
 * module: jdk.unsupported
 * effect: breaks
 */
class Unsafe {
    public static void main(String[] args) throws Exception {
        var field = Class.forName("sun.misc.Unsafe").getDeclaredField("theUnsafe");
        field.setAccessible(true);
        System.out.println(field.get(null) != null);
    }
}
