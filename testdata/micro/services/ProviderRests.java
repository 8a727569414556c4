package services;

/*
 * The provider that a services file names rests on a missing superclass.
 * source: JVMS §5.3.5, Java SE API ServiceLoader
 * effect: breaks
 */
public class ProviderRests {
    public interface Clock { }

    public static class Precise extends java.sql.Timestamp implements Clock {
        public Precise() { super(0L); }
    }

    public static void main(String[] args) {
        for (Clock clock : java.util.ServiceLoader.load(Clock.class)) {
            System.out.println(clock != null);
        }
    }
}
