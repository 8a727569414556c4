package calls;

/*
 * A loader takes a class from an archive beside the program; the class needs a missing class.
 * source: Reif et al., ISSTA 2019, class loading
 * effect: breaks
 * category: Class loading
 * hidden-library: Precise
 */
public class LibraryByLoader {
    public static class Precise implements Runnable {
        public void run() { System.out.println(new java.sql.Timestamp(0L).getNanos()); }
    }

    public static void main(String[] args) throws Exception {
        var place = new java.net.URL[] {new java.io.File("../lib.jar").toURI().toURL()};
        try (var loader = new java.net.URLClassLoader(place, LibraryByLoader.class.getClassLoader())) {
            Class<?> found = loader.loadClass("calls.LibraryByLoader$Precise");
            ((Runnable) found.getDeclaredConstructor().newInstance()).run();
        }
    }
}
