package names;

/*
 * Names stand in the constants of an enum.
 * source: Livshits et al., APLAS 2005
 * effect: breaks
 * category: Reflection: context-sensitive
 */
class EnumOfNames {
    enum Store {
        FILE("java.io.File"), TABLE("java.sql.Driver");
        final String name;
        Store(String name) { this.name = name; }
    }

    public static void main(String[] args) throws Exception {
        for (Store store : Store.values()) {
            System.out.println(Class.forName(store.name).getSimpleName());
        }
    }
}
