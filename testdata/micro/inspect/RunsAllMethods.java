package inspect;

/*
 * All methods that a class declares are run.
 * source: Java SE API Class.getDeclaredMethods
 * effect: breaks
 */
public class RunsAllMethods {
    public static class Jobs {
        public static void a() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static void main(String[] args) throws Exception {
        for (var m : Jobs.class.getDeclaredMethods()) m.invoke(null);
    }
}
