package inspect;

/*
 * One public method is looked up by name; another public one has a missing parameter type.
 * source: Java SE API Class.getMethod
 * effect: breaks
 */
class PublicMethodOther {
    public static class Gauge {
        public void store(java.sql.Connection connection) { }
        public void read() { }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Gauge.class.getMethod("read").getName());
    }
}
