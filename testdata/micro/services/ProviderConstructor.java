package services;

/*
 * Another constructor of a provider takes a type that is missing.
 * source: Java SE API ServiceLoader; observed
 * effect: breaks
 */
public class ProviderConstructor {
    public interface Store {
        int level();
    }

    public static class Files implements Store {
        public Files() {
        }

        public Files(java.sql.Connection connection) {
        }

        public int level() {
            return 4;
        }
    }

    public static void main(String[] args) {
        System.out.println(java.util.ServiceLoader.load(Store.class).iterator().next().level());
    }
}
