package inspect;

/*
 * A public method is looked up; a private one has a missing parameter type.
 * source: Java SE API Class.getMethod, JDK sources of Class
 * effect: fine
 */
class PrivateMethodPublicLookup {
    public static class Gauge {
        private void store(java.sql.Connection connection) { }
        public void read() { }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Gauge.class.getMethod("read").getName());
    }
}
