package inspect;

/*
 * Fields are looked up; only a method mentions a missing type.
 * source: Java SE API Class.getDeclaredFields
 * effect: fine
 */
class FieldsButMethodMissing {
    static class Gauge {
        int level;
        void store(java.sql.Connection connection) { }
    }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getDeclaredFields().length);
    }
}
