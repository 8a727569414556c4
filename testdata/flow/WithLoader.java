package flow;

/**
 * The form with three arguments.
 * case: 10
 * known: exact
 */
public class WithLoader {
    public static void main(String[] args) throws Exception {
        ClassLoader loader = WithLoader.class.getClassLoader();
        System.out.println("asks " + Class.forName("java.sql.Driver", false, loader).getName());
    }
}
