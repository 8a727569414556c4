package run;

/*
 * A pattern switch with a label of a missing type stands in a method that nothing calls.
 * source: JEP 441, JVMS §5.4.3.6
 * effect: fine
 * compiler: 25
 */
class PatternSwitchUnreached {
    private static String kind(Object reading) {
        return switch (reading) {
            case java.sql.Connection connection -> "connection";
            default -> "other";
        };
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
