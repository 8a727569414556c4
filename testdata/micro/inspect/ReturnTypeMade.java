package inspect;

/*
 * An object is created for the type that a method returns.
 * source: Java SE API Method.getReturnType
 * effect: breaks
 */
public class ReturnTypeMade {
    public static class Gauge {
        public Gauge() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    interface Makes {
        Gauge gauge();
    }

    public static void main(String[] args) throws Exception {
        Makes makes = (Makes) java.lang.reflect.Proxy.newProxyInstance(Makes.class.getClassLoader(),
            new Class<?>[] {Makes.class}, (p, m, a) -> m.getReturnType().getConstructor().newInstance());
        System.out.println(makes.gauge());
    }
}
