package names;

/*
 * A name stands in a static field of another class.
 * source: Reif et al., ISSTA 2019, context-sensitive reflection
 * effect: breaks
 * category: Reflection: context-sensitive
 */
class FieldOfOtherClass {
    static class Settings {
        static String driver = "java.sql.Driver";
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName(Settings.driver).isInterface());
    }
}
