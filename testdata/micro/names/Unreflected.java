package names;

/*
 * A method looked up by its name is made into a handle.
 * source: Java SE API MethodHandles.Lookup.unreflect
 * effect: breaks
 */
public class Unreflected {
    public static class Gauge {
        public static int nanos() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) throws Throwable {
        var nanos = java.lang.invoke.MethodHandles.lookup().unreflect(Gauge.class.getMethod("nanos"));
        System.out.println((int) nanos.invoke());
    }
}
