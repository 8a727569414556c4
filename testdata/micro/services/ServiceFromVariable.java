package services;

/*
 * The service that a loader is asked for comes through a parameter.
 * source: Java SE API ServiceLoader
 * effect: breaks
 */
public class ServiceFromVariable {
    public interface Clock { int nanos(); }

    public static class Precise implements Clock {
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    private static <S> S first(Class<S> service) { return java.util.ServiceLoader.load(service).iterator().next(); }

    public static void main(String[] args) {
        System.out.println(first(Clock.class).nanos());
    }
}
