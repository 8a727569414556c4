package guard;

/*
 * An own class that rests on a missing one is looked up by name; the handler knows both errors.
 * source: JVMS §5.3.5, Java SE API Class.forName
 * effect: guarded
 * category: Class.forName exceptions
 */
class ForNameOwnWide {
    static class Reading extends java.sql.Timestamp {
        Reading() { super(0L); }
    }

    public static void main(String[] args) {
        try {
            System.out.println(Class.forName("guard.ForNameOwnWide$Reading").getSimpleName());
        } catch (ClassNotFoundException | LinkageError missing) {
            System.out.println("without: readings");
        }
    }
}
