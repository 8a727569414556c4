package names;

/*
 * A missing class is looked up with a loader and without initialising it.
 * source: Java SE API Class.forName
 * effect: breaks
 * category: Reflection: trivial
 */
class ForNameWithLoader {
    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName("java.sql.Driver", false, ClassLoader.getPlatformClassLoader()).isInterface());
    }
}
