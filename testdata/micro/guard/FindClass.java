package guard;

/*
 * A look-up object is asked for a missing class, and its absence is caught.
 * source: Java SE API MethodHandles.Lookup.findClass
 * effect: guarded
 * category: Modern reflection
 */
class FindClass {
    public static void main(String[] args) throws IllegalAccessException {
        try {
            Class<?> found = java.lang.invoke.MethodHandles.lookup().findClass("java.sql.Driver");
            System.out.println(found.isInterface());
        } catch (ClassNotFoundException missing) {
            System.out.println("without: drivers");
        }
    }
}
