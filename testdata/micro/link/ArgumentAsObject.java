package link;

/*
 * A value of a missing type is handed over where Object is expected, in a method that nothing calls.
 * source: JVMS §4.10.1.2
 * effect: fine
 * category: Type casts
 */
class ArgumentAsObject {
    private static int hash(java.sql.Date date) { return java.util.Objects.hashCode(date); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
