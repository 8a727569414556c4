package inspect;

/*
 * Methods with an annotation are run.
 * source: Java SE API Class.getMethods
 * effect: breaks
 */
public class RunsMarkedMethods {
    @java.lang.annotation.Retention(java.lang.annotation.RetentionPolicy.RUNTIME)
    @interface Job { }
    public static class Jobs {
        @Job public void a() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static void main(String[] args) throws Exception {
        Object jobs = new Jobs();
        for (var m : jobs.getClass().getMethods()) if (m.isAnnotationPresent(Job.class)) m.invoke(jobs);
    }
}
