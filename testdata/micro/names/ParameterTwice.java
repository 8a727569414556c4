package names;

/*
 * A name is handed through two parameters.
 * source: Reif et al., ISSTA 2019, context-sensitive reflection
 * effect: breaks
 * category: Reflection: context-sensitive
 */
class ParameterTwice {
    private static Class<?> load(String name) throws Exception { return Class.forName(name); }
    private static Class<?> driver(int level, String name) throws Exception { return level > 0 ? load(name) : null; }

    public static void main(String[] args) throws Exception {
        System.out.println(driver(212, "java.sql.Driver").isInterface());
    }
}
