package services;

/*
 * A services file names a provider that needs a missing class, but nobody asks for the service.
 * source: JAR File Specification, service providers
 * effect: fine
 */
public class ServiceUnasked {
    public interface Clock { int nanos(); }

    public static class Precise implements Clock {
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
