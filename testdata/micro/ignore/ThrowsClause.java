package ignore;

/*
 * A method declares a missing exception type.
 * source: JVMS §4.7.5
 * effect: fine
 */
class ThrowsClause {
    private static int level() throws java.sql.SQLException { return 212; }

    public static void main(String[] args) throws Exception {
        System.out.println(level());
    }
}
