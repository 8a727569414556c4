package inspect;

/*
 * All methods of a class are looked up, one of which returns a missing type.
 * source: Java SE API Class.getDeclaredMethods
 * effect: breaks
 */
class DeclaredMethods {
    static class Gauge {
        java.sql.Connection store() { return null; }
    }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getDeclaredMethods().length);
    }
}
