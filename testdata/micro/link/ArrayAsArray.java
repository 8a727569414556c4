package link;

/*
 * An array of a missing type is handed over where an array of another missing type is expected.
 * source: JVMS §4.10.1.2
 * effect: breaks
 */
class ArrayAsArray {
    private static void wrap(java.sql.Wrapper[] things) { }
    private static void take(java.sql.Connection[] connections) { wrap(connections); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
