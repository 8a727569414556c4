package platform;

/*
 * A class loader of the program is the system's, by a property of the launch.
 * source: Java SE API ClassLoader.getSystemClassLoader
 * effect: breaks
 * told: launch
 * options: -Djava.system.class.loader=platform.SystemLoader$Loader
 */
public class SystemLoader {
    public static class Loader extends ClassLoader {
        public Loader(ClassLoader parent) {
            super(parent);
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static void main(String[] args) {
        System.out.println(SystemLoader.class.getClassLoader() != null);
    }
}
