package link;

/*
 * A value of a missing type is stored into an array of another missing type.
 * source: JVMS §4.10.1.9 aastore
 * effect: fine
 */
class StoreIntoArray {
    private static void put(java.sql.Wrapper[] things, java.sql.Connection connection) { things[0] = connection; }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
