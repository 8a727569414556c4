package inspect;

/*
 * Objects are created for the types of all fields.
 * source: Java SE API Field.getType
 * effect: breaks
 */
public class FilledFields {
    public static class Reading {
        public Reading() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static class Gauge {
        public Reading last;
    }

    static Object make(Class<?> type) throws Exception {
        Object made = type.getDeclaredConstructor().newInstance();
        for (var field : type.getDeclaredFields()) field.set(made, make(field.getType()));
        return made;
    }

    public static void main(String[] args) throws Exception {
        System.out.println(make(Gauge.class) != null);
    }
}
