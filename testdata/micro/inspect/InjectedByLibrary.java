package inspect;

/*
 * A library creates objects for the types of a constructor's parameters.
 * source: Java SE API Constructor.getParameterTypes
 * effect: breaks
 * library: Box
 */
public class InjectedByLibrary {
    public static class Store {
        public Store() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static class Gauge {
        public Gauge(Store store) { }
    }

    public static class Box {
        static Object make(Class<?> type) throws Exception {
            var made = type.getConstructors()[0];
            var given = new Object[made.getParameterCount()];
            for (int i = 0; i < given.length; i++) given[i] = make(made.getParameterTypes()[i]);
            return made.newInstance(given);
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Box.make(Gauge.class) != null);
    }
}
