package link;

/*
 * A value of a missing type is stored into a static field of another missing class type.
 * source: JVMS §4.10.1.9 putstatic
 * effect: breaks
 */
class StaticAsMissingClass {
    static java.sql.SQLException last;

    private static void note(java.sql.SQLWarning warning) { last = warning; }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
