package names;

/*
 * An object of a missing class is made by name, through its constructor.
 * source: Java SE API Class.getDeclaredConstructor
 * effect: breaks
 * category: Reflection: trivial
 */
class InstanceByName {
    public static void main(String[] args) throws Exception {
        Object made = Class.forName("java.sql.SQLException").getDeclaredConstructor().newInstance();
        System.out.println(made instanceof Exception);
    }
}
