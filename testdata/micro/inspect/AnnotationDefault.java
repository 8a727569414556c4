package inspect;

/*
 * The default value of an annotation is a class that is not there.
 * source: JLS 9.6.2; Java SE API Class.getAnnotation
 * effect: breaks
 */
public class AnnotationDefault {
    @java.lang.annotation.Retention(java.lang.annotation.RetentionPolicy.RUNTIME)
    @interface Stored {
        Class<?> as() default java.sql.Timestamp.class;
    }

    @Stored static class Gauge { }
    public static void main(String[] args) {
        System.out.println(Gauge.class.getAnnotation(Stored.class).as());
    }
}
