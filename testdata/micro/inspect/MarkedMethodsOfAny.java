package inspect;

/*
 * A library runs the methods with an annotation of whatever it is handed.
 * source: Java SE API Class.getMethods
 * effect: breaks
 * library: Runner Mark
 */
public class MarkedMethodsOfAny {
    @java.lang.annotation.Retention(java.lang.annotation.RetentionPolicy.RUNTIME)
    @interface Mark { }

    public static class Jobs {
        @Mark public void a() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    static class Runner {
        static void run(Iterable<?> all) throws Exception {
            for (Object one : all) {
                for (var method : one.getClass().getMethods()) {
                    if (method.isAnnotationPresent(Mark.class)) {
                        method.invoke(one);
                    }
                }
            }
        }
    }

    public static void main(String[] args) throws Exception {
        Runner.run(java.util.List.of(new Jobs()));
    }
}
