package inspect;

/*
 * The member classes are asked for, one of which rests on a missing superclass.
 * source: Java SE API Class.getDeclaredClasses
 * effect: breaks
 */
class DeclaredClasses {
    static class Gauge { }
    static class Reading extends java.sql.Timestamp {
        Reading() { super(0L); }
    }

    public static void main(String[] args) {
        System.out.println(DeclaredClasses.class.getDeclaredClasses().length);
    }
}
