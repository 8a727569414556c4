package names;

/*
 * A missing class is looked up by a constant name.
 * source: Java SE API Class.forName; Livshits et al., APLAS 2005
 * effect: breaks
 * category: Reflection: trivial
 */
class Constant {
    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName("java.sql.Driver").isInterface());
    }
}
