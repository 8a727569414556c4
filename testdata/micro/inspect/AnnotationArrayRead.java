package inspect;

/*
 * One of the classes in an annotation's array is missing.
 * source: Java SE API TypeNotPresentException
 * effect: breaks
 */
class AnnotationArrayRead {
    @java.lang.annotation.Retention(java.lang.annotation.RetentionPolicy.RUNTIME)
    @interface Stored { Class<?>[] in(); }

    @Stored(in = {String.class, java.sql.Connection.class}) static class Gauge { }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getAnnotation(Stored.class).in().length);
    }
}
