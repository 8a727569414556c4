package ignore;

/*
 * A local variable of a missing type holds null and is compared.
 * source: JVMS §4.7.13
 * effect: fine
 */
class LocalVariable {
    public static void main(String[] args) {
        java.sql.Connection connection = null;
        System.out.println(connection == null ? "closed" : "open");
    }
}
