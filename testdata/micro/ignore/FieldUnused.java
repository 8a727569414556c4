package ignore;

/*
 * A field has a missing type and is never used.
 * source: JVMS §5.4.3.2
 * effect: fine
 */
class FieldUnused {
    java.sql.Connection connection;

    public static void main(String[] args) {
        System.out.println(new FieldUnused().hashCode() == 0 ? "" : "made");
    }
}
