package inspect;

/*
 * The value of an annotation that a program reads is a missing class.
 * source: Java SE API TypeNotPresentException
 * effect: breaks
 */
class AnnotationValueRead {
    @java.lang.annotation.Retention(java.lang.annotation.RetentionPolicy.RUNTIME)
    @interface Stored { Class<?> in(); }

    @Stored(in = java.sql.Connection.class) static class Gauge { }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getAnnotation(Stored.class).in().getSimpleName());
    }
}
