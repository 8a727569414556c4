package verifier;

/*
 * A constructor takes a present class and is given a missing one.
 * source: JVMS §4.10.1.9 invokespecial
 * breaks: java/sql/Date
 */
class ConstructorArgument {
    private final long at;

    ConstructorArgument(java.util.Date date) { at = date.getTime(); }

    static ConstructorArgument of(java.sql.Date date) { return new ConstructorArgument(date); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
