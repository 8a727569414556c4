package inspect;

/*
 * All fields of a class are looked up, one of which has a missing type.
 * source: Java SE API Class.getDeclaredFields, JDK sources of Class
 * effect: breaks
 */
class DeclaredFields {
    static class Gauge {
        java.sql.Connection store;
        int level;
    }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getDeclaredFields().length);
    }
}
