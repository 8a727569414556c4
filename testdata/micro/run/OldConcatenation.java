package run;

/*
 * The same as compiled by releases before 19: the missing type stands in the bootstrap's descriptor.
 * source: JDK-8273914, JVMS §5.4.3.5
 * effect: breaks
 */
class OldConcatenation {
    static class Text {
        /* Forge.java puts the body that such a compiler makes here. */
        static String of(java.sql.Connection connection) { return null; }
    }

    public static void main(String[] args) {
        System.out.println(Text.of(null));
    }
}
