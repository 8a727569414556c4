package services;

/*
 * The provider that a services file names needs a missing class when it is called.
 * source: JAR File Specification, service providers
 * effect: breaks
 */
public class ProviderNeeds {
    public interface Clock { int nanos(); }

    public static class Precise implements Clock {
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) {
        for (Clock clock : java.util.ServiceLoader.load(Clock.class)) {
            System.out.println(clock.nanos());
        }
    }
}
