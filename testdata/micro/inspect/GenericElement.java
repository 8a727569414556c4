package inspect;

/*
 * An object is created for the type argument of a field.
 * source: Java SE API Field.getGenericType
 * effect: breaks
 */
public class GenericElement {
    public static class Gauge {
        public Gauge() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    static class Station {
        public java.util.List<Gauge> gauges;
    }

    public static void main(String[] args) throws Exception {
        var type = (java.lang.reflect.ParameterizedType) Station.class.getField("gauges").getGenericType();
        System.out.println(((Class<?>) type.getActualTypeArguments()[0]).getConstructor().newInstance());
    }
}
