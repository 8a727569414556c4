package names;

/*
 * An array class of a missing class is looked up by name.
 * source: Java SE API Class.forName
 * effect: breaks
 * category: Reflection: trivial
 */
class ArrayName {
    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName("[Ljava.sql.Date;").isArray());
    }
}
