package calls;

/*
 * A loader of the program's own defines a class from bytes; the class needs a missing class.
 * source: Reif et al., ISSTA 2019, class loading
 * effect: breaks
 * category: Class loading
 */
public class ClassFromBytes {
    public static class Precise implements Runnable {
        public void run() { System.out.println(new java.sql.Timestamp(0L).getNanos()); }
    }

    static class Loader extends ClassLoader {
        Class<?> define(String name, byte[] bytes) { return defineClass(name, bytes, 0, bytes.length); }
    }

    public static void main(String[] args) throws Exception {
        try (var in = ClassFromBytes.class.getResourceAsStream("/calls/ClassFromBytes$Precise.class")) {
            Class<?> found = new Loader().define("calls.ClassFromBytes$Precise", in.readAllBytes());
            ((Runnable) found.getDeclaredConstructor().newInstance()).run();
        }
    }
}
