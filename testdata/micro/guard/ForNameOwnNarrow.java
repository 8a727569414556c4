package guard;

/*
 * An own class that rests on a missing one is looked up by name; the handler knows the wrong error.
 * source: JVMS §5.3.5, Java SE API Class.forName
 * effect: breaks
 * category: Class.forName exceptions
 */
class ForNameOwnNarrow {
    static class Reading extends java.sql.Timestamp {
        Reading() { super(0L); }
    }

    public static void main(String[] args) {
        try {
            System.out.println(Class.forName("guard.ForNameOwnNarrow$Reading").getSimpleName());
        } catch (ClassNotFoundException missing) {
            System.out.println("without: readings");
        }
    }
}
