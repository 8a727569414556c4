package names;

/*
 * A name is the default of a system property.
 * source: Reif et al., ISSTA 2019, context-sensitive reflection
 * effect: breaks
 * category: Reflection: context-sensitive
 */
class PropertyDefault {
    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName(System.getProperty("gauges.driver", "java.sql.Driver")).isInterface());
    }
}
