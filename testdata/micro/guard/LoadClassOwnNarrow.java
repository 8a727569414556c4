package guard;

/*
 * A loader is asked for an own class that rests on a missing one; the handler knows the wrong error.
 * source: JVMS §5.3.5, Java SE API ClassLoader.loadClass
 * effect: breaks
 */
class LoadClassOwnNarrow {
    static class Reading extends java.sql.Timestamp {
        Reading() { super(0L); }
    }

    public static void main(String[] args) {
        try {
            ClassLoader loader = LoadClassOwnNarrow.class.getClassLoader();
            System.out.println(loader.loadClass("guard.LoadClassOwnNarrow$Reading").getSimpleName());
        } catch (ClassNotFoundException missing) {
            System.out.println("without: readings");
        }
    }
}
