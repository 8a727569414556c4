package inspect;

import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;

/*
 * A library reads which class the annotation of an annotation names, and makes an object of it. Both annotations are its own.
 * source: JLS 9.6.4; Java SE API AnnotatedElement
 * effect: breaks
 * library: Kit
 */
public class AnnotationOfAnnotation {
    @Kit.Stored static class Gauge { }

    public static class Kit {
        @Retention(RetentionPolicy.RUNTIME)
        public @interface By {
            Class<?> value();
        }

        @By(Store.class)
        @Retention(RetentionPolicy.RUNTIME)
        public @interface Stored { }

        public static class Store {
            public String toString() { return "" + new java.sql.Timestamp(0).getTime(); }
        }

        public static Object open(Class<?> type) throws Exception {
            for (var annotation : type.getAnnotations()) {
                By by = annotation.annotationType().getAnnotation(By.class);
                if (by != null) {
                    return by.value().getConstructor().newInstance();
                }
            }
            return null;
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Kit.open(Gauge.class));
    }
}
