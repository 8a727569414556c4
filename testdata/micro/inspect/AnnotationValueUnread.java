package inspect;

/*
 * An annotation is read, but not its value, which is a missing class.
 * source: Java SE API TypeNotPresentException
 * effect: fine
 */
class AnnotationValueUnread {
    @java.lang.annotation.Retention(java.lang.annotation.RetentionPolicy.RUNTIME)
    @interface Stored { Class<?> in(); }

    @Stored(in = java.sql.Connection.class) static class Gauge { }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getAnnotations().length);
    }
}
