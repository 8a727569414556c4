package guard;

/*
 * One caller catches the error that a missing class causes; another does not.
 * source: JVMS §2.10
 * effect: breaks
 */
class OneOfTwoPaths {
    private static Object stamp() { return new java.sql.Timestamp(0L); }

    public static void main(String[] args) {
        try {
            stamp();
        } catch (LinkageError missing) {
            System.out.println("without: stamps");
        }
        System.out.println(stamp() != null);
    }
}
