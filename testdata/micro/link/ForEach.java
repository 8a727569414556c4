package link;

/*
 * A loop runs over an empty list of a missing element type.
 * source: JLS §14.14.2, JVMS §6.5 checkcast
 * effect: fine
 */
class ForEach {
    public static void main(String[] args) throws Exception {
        for (java.sql.Connection connection : new java.util.ArrayList<java.sql.Connection>()) {
            connection.close();
        }
        System.out.println("level 212 cm");
    }
}
