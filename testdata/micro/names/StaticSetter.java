package names;

/*
 * A handle that sets a static field initialises the class.
 * source: Java SE API MethodHandles.Lookup.findStaticSetter
 * effect: breaks
 */
public class StaticSetter {
    public static class Gauge {
        static {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
        static int level;
    }

    public static void main(String[] args) throws Throwable {
        var u = java.lang.invoke.MethodHandles.lookup().findStaticSetter(Gauge.class, "level", int.class);
        u.invoke(1);
        System.out.println(1);
    }
}
