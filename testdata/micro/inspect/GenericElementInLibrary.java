package inspect;

/*
 * A library creates an object for the type argument of a field.
 * source: Java SE API Field.getGenericType
 * effect: breaks
 * library: Mapper
 */
public class GenericElementInLibrary {
    public static class Gauge {
        public Gauge() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    static class Station {
        public java.util.List<Gauge> gauges;
    }

    static class Mapper {
        static Object fill(Class<?> station) throws Exception {
            var type = (java.lang.reflect.ParameterizedType) station.getFields()[0].getGenericType();
            return ((Class<?>) type.getActualTypeArguments()[0]).getConstructor().newInstance();
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Mapper.fill(Station.class));
    }
}
