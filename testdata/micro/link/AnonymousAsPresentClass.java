package link;

/*
 * An anonymous subclass of a missing class is promised as a class that is present, in a method that nothing calls.
 * source: JVMS §4.10.1.2, §5.3.5
 * effect: breaks
 */
class AnonymousAsPresentClass {
    private static java.util.Date reading() {
        return new java.sql.Timestamp(0L) {
            @Override public int getNanos() { return 1; }
        };
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
