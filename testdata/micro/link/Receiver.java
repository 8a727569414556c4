package link;

/*
 * An inherited method is called on a receiver of the very type that the call names.
 * source: JVMS §4.10.1.9 invokeinterface
 * effect: fine
 */
class Receiver {
    private static void close(java.sql.Connection connection) throws Exception { connection.close(); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
