package names;

/*
 * A missing class would be looked up by a method that nothing calls.
 * source: Java SE API Class.forName
 * effect: fine
 * category: Reflection: trivial
 */
class ConstantUnreached {
    private static Object driver() throws Exception { return Class.forName("java.sql.Driver"); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
