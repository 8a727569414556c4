package inspect;

/*
 * One class is inspected; another, which mentions a missing type, is not.
 * source: Java SE API Class.getDeclaredFields
 * effect: fine
 */
class Uninspected {
    static class Gauge { int level; }
    static class Store { java.sql.Connection connection; }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getDeclaredFields().length + " " + (new Store().connection == null));
    }
}
