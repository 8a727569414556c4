package link;

/*
 * A value of a missing type is stored into a field of a class type that is present.
 * source: JVMS §4.10.1.9 putfield
 * effect: breaks
 */
class FieldAsPresentClass {
    java.util.Date when;

    private void at(java.sql.Timestamp stamp) { when = stamp; }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
