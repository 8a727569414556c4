package guard;

/*
 * A class loader of the program hands on what it is asked for, and whoever asks bears the absence.
 * source: Java SE API ClassLoader
 * effect: guarded
 * packed: yes
 */
public class LoaderHandsOn {
    static class Loader extends ClassLoader {
        @Override
        public Class<?> loadClass(String name) throws ClassNotFoundException {
            return super.loadClass(name);
        }
    }

    public static class Times {
        public static final int NANOS = new java.sql.Timestamp(0L).getNanos();
    }

    public static void main(String[] args) throws Exception {
        try {
            Class<?> times = new Loader().loadClass("guard.LoaderHandsOn$Times");
            System.out.println(times.getField("NANOS").get(null));
        } catch (NoClassDefFoundError | ClassNotFoundException absent) {
            System.out.println("without: no times");
        }
    }
}
