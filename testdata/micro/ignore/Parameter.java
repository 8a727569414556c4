package ignore;

/*
 * A method with a parameter of a missing type is called with null.
 * source: JVMS §5.4.3.3
 * effect: fine
 */
class Parameter {
    private static int count(java.sql.Connection connection) { return connection == null ? 0 : 1; }

    public static void main(String[] args) {
        System.out.println(count(null));
    }
}
