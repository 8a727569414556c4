package inspect;

/*
 * A library creates objects for the types of all fields.
 * source: Java SE API Field.getType
 * effect: breaks
 * library: Mapper
 */
public class FilledFieldsInLibrary {
    public static class Reading {
        public Reading() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static class Gauge {
        public Reading last;
    }

    public static class Mapper {
        static Object make(Class<?> type) throws Exception {
            Object made = type.getDeclaredConstructor().newInstance();
            for (var field : type.getDeclaredFields()) field.set(made, make(field.getType()));
            return made;
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Mapper.make(Gauge.class) != null);
    }
}
