package inspect;

/*
 * A nest member rests on a missing superclass: it vanishes from the answer in silence.
 * source: JEP 181, Java SE API Class.getNestMembers
 * effect: degrades
 */
class NestMembers {
    static class Gauge { }
    static class Reading extends java.sql.Timestamp {
        Reading() { super(0L); }
    }

    public static void main(String[] args) {
        System.out.println(NestMembers.class.getNestMembers().length);
    }
}
