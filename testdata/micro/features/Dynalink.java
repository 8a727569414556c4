package features;

/*
 * An exception of dynamic linking is made.
 * source: JEP 276
 * module: jdk.dynalink
 * effect: breaks
 */
class Dynalink {
    public static void main(String[] args) {
        System.out.println(new jdk.dynalink.NoSuchDynamicMethodException("raise").getMessage());
    }
}
