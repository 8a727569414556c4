package inspect;

/*
 * A constructor is picked from the list of all.
 * source: Java SE API Class.getDeclaredConstructors
 * effect: breaks
 */
public class FirstConstructor {
    public static class Gauge {
        public Gauge() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Gauge.class.getDeclaredConstructors()[0].newInstance() != null);
    }
}
