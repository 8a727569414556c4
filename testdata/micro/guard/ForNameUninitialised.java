package guard;

/*
 * An own class that rests on a missing one is looked up without initialising it; the handler knows the wrong error.
 * source: JVMS §5.3.5, Java SE API Class.forName
 * effect: breaks
 */
class ForNameUninitialised {
    static class Reading extends java.sql.Timestamp {
        Reading() { super(0L); }
    }

    public static void main(String[] args) {
        try {
            ClassLoader loader = ForNameUninitialised.class.getClassLoader();
            String name = "guard.ForNameUninitialised$Reading";
            System.out.println(Class.forName(name, false, loader).getSimpleName());
        } catch (ClassNotFoundException missing) {
            System.out.println("without: readings");
        }
    }
}
