package platform;

/*
 * An interface is implemented by a method handle.
 * source: Java SE API MethodHandleProxies.asInterfaceInstance
 * effect: breaks
 */
public class HandleProxy {
    public interface Gauge {
        java.sql.Timestamp at();
    }

    static java.sql.Timestamp none() {
        return null;
    }

    public static void main(String[] args) throws Throwable {
        var h = java.lang.invoke.MethodHandles.constant(Object.class, null);
        System.out.println(java.lang.invoke.MethodHandleProxies.asInterfaceInstance(Gauge.class, h) != null);
    }
}
