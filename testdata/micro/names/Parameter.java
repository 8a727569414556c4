package names;

/*
 * A name is handed through one parameter.
 * source: Reif et al., ISSTA 2019, context-sensitive reflection
 * effect: breaks
 * category: Reflection: context-sensitive
 */
class Parameter {
    private static Class<?> load(String name) throws Exception { return Class.forName(name); }

    public static void main(String[] args) throws Exception {
        System.out.println(load("java.sql.Driver").isInterface());
    }
}
