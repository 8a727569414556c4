package names;

/*
 * Names stand in a map.
 * source: Landman et al., ICSE 2017, semantics of collections
 * effect: breaks
 * category: Reflection: context-sensitive
 */
class MapOfNames {
    private static final java.util.Map<String, String> NAMES = java.util.Map.of("sql", "java.sql.Driver");

    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName(NAMES.get("sql")).isInterface());
    }
}
