package guard;

/*
 * The caller's caller catches the error that a missing class causes.
 * source: JVMS §2.10
 * effect: guarded
 */
class GuardedByCaller {
    private static Object stamp() { return new java.sql.Timestamp(0L); }
    private static Object record() { return stamp(); }

    public static void main(String[] args) {
        try {
            System.out.println(record() != null);
        } catch (LinkageError missing) {
            System.out.println("without: stamps");
        }
    }
}
