package inspect;

/*
 * All public methods of a class are looked up, one of which has a missing parameter type.
 * source: Java SE API Class.getMethods
 * effect: breaks
 */
class PublicMethods {
    public static class Gauge {
        public void store(java.sql.Connection connection) { }
    }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getMethods().length > 9);
    }
}
