package services;

/*
 * The service that a loader is asked for is itself a missing class.
 * source: Java SE API ServiceLoader
 * effect: breaks
 */
class PlatformService {
    public static void main(String[] args) {
        System.out.println(java.util.ServiceLoader.load(java.sql.Driver.class).findFirst().isPresent());
    }
}
