package flow;

/**
 * The default of a system property.
 * case: 7
 * known: exact-among-others
 */
public class Default {
    public static void main(String[] args) throws Exception {
        String name = System.getProperty("tide.driver", "java.sql.Driver");
        System.out.println("asks " + Class.forName(name).getName());
    }
}
