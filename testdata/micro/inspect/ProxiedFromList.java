package inspect;

import java.lang.reflect.Proxy;
import java.util.ArrayList;
import java.util.List;

/*
 * A proxy is made for interfaces that come out of a list.
 * source: Java SE API Proxy
 * effect: breaks
 */
public class ProxiedFromList {
    public interface Gauge {
        java.sql.Timestamp at();
    }

    public static void main(String[] args) {
        List<Class<?>> kinds = new ArrayList<>();
        kinds.add(Gauge.class);
        Object gauge = Proxy.newProxyInstance(ProxiedFromList.class.getClassLoader(), kinds.toArray(new Class<?>[0]),
            (proxy, method, values) -> null);
        System.out.println(gauge instanceof Gauge);
    }
}
