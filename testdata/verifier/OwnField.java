package verifier;

/*
 * An application class that extends a missing one is read through the field of its present superclass.
 * source: JVMS §4.10.1.9 getfield
 * breaks: java/sql/Wrapper
 */
class OwnField {
    static class Gauge { int level = 212; }
    abstract static class Remote extends Gauge implements java.sql.Wrapper { }

    private static int level(Remote gauge) { return ((Gauge) gauge).level; }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
