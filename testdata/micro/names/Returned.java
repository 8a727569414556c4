package names;

/*
 * A name comes from the result of a method.
 * source: Livshits et al., APLAS 2005
 * effect: breaks
 * category: Reflection: context-sensitive
 */
class Returned {
    private static String driver() { return "java.sql.Driver"; }

    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName(driver()).isInterface());
    }
}
