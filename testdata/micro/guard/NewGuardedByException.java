package guard;

/*
 * The creation of an object of a missing class stands in a handler for exceptions, which errors are not.
 * source: JLS §11.1.1
 * effect: breaks
 */
class NewGuardedByException {
    public static void main(String[] args) {
        try {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        } catch (Exception missing) {
            System.out.println("without: stamps");
        }
    }
}
