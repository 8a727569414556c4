package names;

/*
 * A look-up object is asked for a missing class.
 * source: Java SE API MethodHandles.Lookup.findClass
 * effect: breaks
 * category: Modern reflection
 */
class FindClass {
    public static void main(String[] args) throws Exception {
        System.out.println(java.lang.invoke.MethodHandles.lookup().findClass("java.sql.Driver").isInterface());
    }
}
