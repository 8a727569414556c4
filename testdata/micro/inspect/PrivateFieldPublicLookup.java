package inspect;

/*
 * A public field is looked up; a private one has a missing type.
 * source: Java SE API Class.getField, JDK sources of Class
 * effect: fine
 */
class PrivateFieldPublicLookup {
    public static class Gauge {
        private java.sql.Connection store;
        public int level;
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Gauge.class.getField("level").getName());
    }
}
