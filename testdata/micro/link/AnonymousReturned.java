package link;

/*
 * An anonymous subclass of a missing class would be returned by a method that nothing calls.
 * source: JVMS §4.10.1.2
 * effect: fine
 */
class AnonymousReturned {
    private static Object reading() {
        return new java.sql.Timestamp(0L) {
            @Override public int getNanos() { return 1; }
        };
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
