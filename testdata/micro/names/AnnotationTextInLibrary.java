package names;

/*
 * The text of an annotation in a library is the name of a class.
 * source: Java SE API Class.getAnnotation
 * effect: breaks
 * library: Gauge Tide Maker By
 */
public class AnnotationTextInLibrary {
    @java.lang.annotation.Retention(java.lang.annotation.RetentionPolicy.RUNTIME)
    @interface By {
        String value();
    }

    public static class Gauge {
        public Gauge() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    @By("names.AnnotationTextInLibrary$Gauge") interface Tide { }
    static class Maker {
        static void run() throws Exception {
            String name = Tide.class.getAnnotation(By.class).value();
            System.out.println(Class.forName(name).getConstructor().newInstance());
        }
    }

    public static void main(String[] args) throws Exception {
        Maker.run();
    }
}
