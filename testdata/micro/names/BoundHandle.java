package names;

/*
 * A handle is bound to an object by the name of its method.
 * source: Java SE API MethodHandles.Lookup.bind
 * effect: breaks
 */
public class BoundHandle {
    public static class Gauge {
        public int nanos() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) throws Throwable {
        System.out.println((int) java.lang.invoke.MethodHandles.lookup().bind(new Gauge(), "nanos",
            java.lang.invoke.MethodType.methodType(int.class)).invoke());
    }
}
