package guard;

/*
 * The creation of an object of a missing class stands in a handler for everything.
 * source: JVMS §5.4.3, §2.10
 * effect: guarded
 */
class NewGuardedByThrowable {
    public static void main(String[] args) {
        try {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        } catch (Throwable missing) {
            System.out.println("without: stamps");
        }
    }
}
