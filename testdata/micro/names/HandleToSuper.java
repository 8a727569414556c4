package names;

/*
 * A method of the superclass is looked up by a handle that passes over the override.
 * source: Java SE API MethodHandles.Lookup.findSpecial
 * effect: breaks
 */
public class HandleToSuper {
    static class Base {
        int nanos() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    static class Below extends Base {
        int nanos() {
            return 1;
        }
        static int above(Below of) throws Throwable {
            return (int) java.lang.invoke.MethodHandles.lookup().findSpecial(Base.class, "nanos",
                java.lang.invoke.MethodType.methodType(int.class), Below.class).invoke(of);
        }
    }

    public static void main(String[] args) throws Throwable {
        System.out.println(Below.above(new Below()));
    }
}
