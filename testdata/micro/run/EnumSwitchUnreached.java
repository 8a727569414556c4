package run;

/*
 * A switch over a missing enum stands in a method that nothing calls.
 * source: JVMS §5.5
 * effect: fine
 */
class EnumSwitchUnreached {
    private static int width(java.sql.JDBCType type) {
        switch (type) {
            case BIGINT: return 8;
            default: return 0;
        }
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
