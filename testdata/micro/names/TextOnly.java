package names;

/*
 * The name of a missing class is printed, and never looked up.
 * source: JVMS §4.4.3
 * effect: fine
 * category: Reflection: trivial
 */
class TextOnly {
    public static void main(String[] args) {
        System.out.println("java.sql.Driver");
    }
}
