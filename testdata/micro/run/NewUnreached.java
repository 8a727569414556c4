package run;

/*
 * An instruction that would create an object of a missing class stands in a method that nothing calls.
 * source: JVMS §5.4, §6.5 new
 * effect: fine
 */
class NewUnreached {
    private static Object stamp() { return new java.sql.Timestamp(0L); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
