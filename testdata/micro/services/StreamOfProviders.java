package services;

/*
 * Providers are streamed and made one by one.
 * source: Java SE API ServiceLoader.stream
 * effect: breaks
 */
public class StreamOfProviders {
    public interface Clock { int nanos(); }

    public static class Precise implements Clock {
        public Precise() { }
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) {
        java.util.ServiceLoader.load(Clock.class).stream()
            .map(java.util.ServiceLoader.Provider::get)
            .forEach(clock -> System.out.println(clock.nanos()));
    }
}
