package verifier;

/*
 * A subclass with a missing interface is cloned: a protected method, whose receiver must be of the class that calls it.
 * source: JVMS §4.10.1.8
 * breaks: java/sql/Wrapper
 */
class CloneOfSubclass implements Cloneable {
    abstract static class Gauge extends CloneOfSubclass implements java.sql.Wrapper { }

    private static Object copy(Gauge gauge) throws CloneNotSupportedException { return gauge.clone(); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
