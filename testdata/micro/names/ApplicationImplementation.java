package names;

/*
 * A library puts the name of an implementation together of that of an interface and a word of its own.
 * source: Java SE API Class.forName; common practice, no source
 * effect: breaks
 * library: Finder
 * packed: yes
 */
public class ApplicationImplementation {
    public interface Gauge {
        int level();
    }

    public static class GaugeTides implements Gauge {
        public int level() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static class Finder {
        static Object find(Class<?> type, Object suffix) throws Exception {
            return Class.forName(type.getName() + suffix, true, type.getClassLoader()).getConstructor().newInstance();
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(((Gauge) Finder.find(Gauge.class, new StringBuilder("sediT").reverse())).level());
    }
}
