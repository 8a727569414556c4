package flow;

/**
 * The name goes through two methods on its way.
 * case: 5
 * known: exact
 */
public class Parameter {
    public static void main(String[] args) throws Exception {
        System.out.println("asks " + look("Driver").getName());
        System.out.println("asks " + new Parameter().find(7L, "java.util.logging.Level").getName());
    }

    private static Class<?> look(String kind) throws Exception {
        return new Parameter().find(1L, named("java.sql", kind));
    }

    private static String named(String tide, String kind) {
        return tide + "." + kind;
    }

    private Class<?> find(long since, String name) throws Exception {
        return Class.forName(name);
    }
}
