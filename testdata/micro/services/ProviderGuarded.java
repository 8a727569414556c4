package services;

/*
 * The provider that a services file names rests on a missing superclass, and the error is caught.
 * source: JVMS §5.3.5, Java SE API ServiceLoader
 * effect: guarded
 */
public class ProviderGuarded {
    public interface Clock { }

    public static class Precise extends java.sql.Timestamp implements Clock {
        public Precise() { super(0L); }
    }

    public static void main(String[] args) {
        try {
            System.out.println(java.util.ServiceLoader.load(Clock.class).iterator().next() != null);
        } catch (java.util.ServiceConfigurationError | LinkageError missing) {
            System.out.println("without: clock");
        }
    }
}
