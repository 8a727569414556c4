package inspect;

/*
 * A constructor without parameters is looked up; another one has a missing parameter type.
 * source: Java SE API Class.getDeclaredConstructor
 * effect: breaks
 */
class DeclaredConstructor {
    static class Gauge {
        Gauge() { }
        Gauge(java.sql.Connection store) { }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Gauge.class.getDeclaredConstructor().getParameterCount());
    }
}
