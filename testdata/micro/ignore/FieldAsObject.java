package ignore;

/*
 * A field of a missing type is handed over as an Object.
 * source: JVMS §4.10.1.2
 * effect: fine
 */
class FieldAsObject {
    static java.sql.Connection connection;

    public static void main(String[] args) {
        System.out.println(java.util.Objects.isNull(connection));
    }
}
