package names;

/*
 * Names stand in an array and are looked up in a loop.
 * source: Landman et al., ICSE 2017, semantics of collections
 * effect: breaks
 * category: Reflection: locally resolvable
 */
class ArrayOfNames {
    private static final String[] NAMES = {"java.util.Date", "java.sql.Date"};

    public static void main(String[] args) throws Exception {
        for (String name : NAMES) {
            System.out.println(Class.forName(name).getSimpleName());
        }
    }
}
