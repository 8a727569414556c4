package inspect;

/*
 * A method is picked from the list of all.
 * source: Java SE API Class.getMethods
 * effect: breaks
 */
public class PickedMethod {
    public static class Gauge {
        public int nanos() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    interface Reads {
        int of(Gauge g);
    }

    public static void main(String[] args) throws Exception {
        java.lang.reflect.Method m = null;
        for (var one : Gauge.class.getMethods()) if (one.getName().startsWith("na")) m = one;
        System.out.println(m.invoke(new Gauge()));
    }
}
