package services;

/*
 * The provider stands in another archive of the class path.
 * source: JAR File Specification, service providers
 * effect: breaks
 * library: Precise
 */
public class ProviderInLibrary {
    public interface Clock { int nanos(); }

    public static class Precise implements Clock {
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) {
        System.out.println(java.util.ServiceLoader.load(Clock.class).findFirst().get().nanos());
    }
}
