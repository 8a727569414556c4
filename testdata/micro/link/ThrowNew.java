package link;

/*
 * A new object of a missing exception type is thrown, in a method that nothing calls.
 * source: JVMS §4.10.1.9 athrow
 * effect: breaks
 */
class ThrowNew {
    private static void fail() throws Exception { throw new java.sql.SQLException("gauge is silent"); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
