package names;

/*
 * The thread's context loader is asked for a missing class.
 * source: Java SE API ClassLoader.loadClass
 * effect: breaks
 * category: Reflection: trivial
 */
class ContextLoader {
    public static void main(String[] args) throws Exception {
        ClassLoader loader = Thread.currentThread().getContextClassLoader();
        System.out.println(loader.loadClass("java.sql.Driver").isInterface());
    }
}
