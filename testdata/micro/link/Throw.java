package link;

/*
 * A value of a missing exception type is thrown, in a method that nothing calls.
 * source: JVMS §4.10.1.9 athrow
 * effect: breaks
 */
class Throw {
    private static void fail(java.sql.SQLException error) throws Exception { throw error; }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
