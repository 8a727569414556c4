package services;

import java.util.HashMap;
import java.util.Map;
import java.util.ServiceLoader;

/*
 * Which service a loader is asked for comes out of a map: its class can be any that the program has as a value.
 * source: Java SE API ServiceLoader
 * effect: breaks
 */
public class ServiceFromMap {
    public interface Clock { int nanos(); }

    public static class Precise implements Clock {
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) {
        Map<String, Class<?>> services = new HashMap<>();
        services.put("clock", Clock.class);
        Clock clock = (Clock) ServiceLoader.load(services.get("clock")).iterator().next();
        System.out.println(clock.nanos());
    }
}
