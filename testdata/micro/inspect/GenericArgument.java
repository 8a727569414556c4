package inspect;

/*
 * An object is created for the type argument of the superclass.
 * source: Java SE API Class.getGenericSuperclass
 * effect: breaks
 */
public class GenericArgument {
    public static class Gauge {
        public Gauge() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    static abstract class Ref<T> {
        Object make() throws Exception {
            var type =
                ((java.lang.reflect.ParameterizedType) getClass().getGenericSuperclass()).getActualTypeArguments()[0];
            return ((Class<?>) type).getConstructor().newInstance();
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(new Ref<Gauge>() { }.make());
    }
}
