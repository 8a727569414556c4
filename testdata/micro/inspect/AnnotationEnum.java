package inspect;

/*
 * An annotation that a program reads has a member whose type is a missing enum.
 * source: JDK sources of sun.reflect.annotation.AnnotationType
 * effect: breaks
 */
class AnnotationEnum {
    @java.lang.annotation.Retention(java.lang.annotation.RetentionPolicy.RUNTIME)
    @interface Stored { java.sql.JDBCType as(); }

    @Stored(as = java.sql.JDBCType.BIGINT) static class Gauge { }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getAnnotations().length);
    }
}
