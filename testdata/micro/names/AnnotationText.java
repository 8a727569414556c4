package names;

/*
 * The text of an annotation is the name of a class.
 * source: Java SE API Class.getAnnotation
 * effect: breaks
 */
public class AnnotationText {
    @java.lang.annotation.Retention(java.lang.annotation.RetentionPolicy.RUNTIME)
    @interface By {
        String value();
    }

    public static class Gauge {
        public Gauge() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    @By("names.AnnotationText$Gauge") interface Tide { }
    public static void main(String[] args) throws Exception {
        String name = Tide.class.getAnnotation(By.class).value();
        System.out.println(Class.forName(name).getConstructor().newInstance());
    }
}
