package inspect;

/*
 * A superclass calls a method of the subclass by a name that it puts together.
 * source: Java SE API Class.getMethod
 * effect: breaks
 * library: Base
 */
public class HandlerByName {
    public static class Base {
        Object on(String what) throws Exception {
            return getClass().getMethod("on" + what).invoke(this);
        }
    }

    public static class Gauge extends Base {
        public Object onTide() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(new Gauge().on(args.length == 0 ? "Tide" : args[0]));
    }
}
