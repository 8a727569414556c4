package ignore;

/*
 * A method that returns a missing type is called.
 * source: JVMS §5.4.3.3
 * effect: fine
 */
class ReturnType {
    private static java.sql.Connection open() { return null; }

    public static void main(String[] args) {
        System.out.println(open() == null);
    }
}
