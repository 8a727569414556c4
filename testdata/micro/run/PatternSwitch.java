package run;

/*
 * A pattern switch with a label of a missing type runs, though another label matches.
 * source: JEP 441, JVMS §5.4.3.6
 * effect: breaks
 * compiler: 25
 */
class PatternSwitch {
    private static String kind(Object reading) {
        return switch (reading) {
            case java.sql.Connection connection -> "connection";
            case String text -> "text";
            default -> "other";
        };
    }

    public static void main(String[] args) {
        System.out.println(kind("212 cm"));
    }
}
