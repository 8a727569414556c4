package names;

/*
 * An own class is made by name; its method, called through an interface, needs a missing class.
 * source: Reif et al., ISSTA 2019, trivial reflection
 * effect: breaks
 * category: Reflection: trivial
 */
class OwnClassByName {
    static class Clock implements Runnable {
        Clock() { }
        public void run() { System.out.println(new java.sql.Timestamp(0L).getNanos()); }
    }

    public static void main(String[] args) throws Exception {
        ((Runnable) Class.forName("names.OwnClassByName$Clock").getDeclaredConstructor().newInstance()).run();
    }
}
