package flow;

/**
 * Names that a handler and the code behind it see.
 * case: 0
 * known: exact
 */
public class Guarded {
    public static void main(String[] args) throws Exception {
        String name = "java.sql.Missing";
        try {
            System.out.println("asks " + Class.forName(name).getName());
        } catch (ClassNotFoundException missing) {
            System.out.println("asks " + missing.getMessage());
            name = "java.sql.Driver";
        } finally {
            args = null;
        }
        System.out.println("asks " + Class.forName(name).getName());
    }
}
