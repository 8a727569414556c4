package verifier;

/*
 * The branches of a switch push different missing classes, which meet as a missing interface.
 * source: JVMS §4.10.1.9 tableswitch
 * breaks: java/sql/Statement
 */
class SwitchMerge {
    private static Object pick(int gauge, java.sql.PreparedStatement first, java.sql.CallableStatement second) {
        java.sql.Statement picked = switch (gauge) {
            case 0 -> first;
            case 1 -> second;
            case 1_000_000 -> null;
            default -> first;
        };
        return picked;
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
