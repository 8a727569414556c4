package inspect;

/*
 * One field is looked up by name; another one has a missing type.
 * source: Java SE API Class.getDeclaredField, JDK sources of Class
 * effect: breaks
 */
class DeclaredFieldOther {
    static class Gauge {
        java.sql.Connection store;
        int level;
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Gauge.class.getDeclaredField("level").getName());
    }
}
