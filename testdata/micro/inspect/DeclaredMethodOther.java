package inspect;

/*
 * One method is looked up by name; another one has a missing parameter type.
 * source: Java SE API Class.getDeclaredMethod
 * effect: breaks
 */
class DeclaredMethodOther {
    static class Gauge {
        void store(java.sql.Connection connection) { }
        void read() { }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Gauge.class.getDeclaredMethod("read").getName());
    }
}
