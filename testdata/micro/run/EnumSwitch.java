package run;

/*
 * A switch over a missing enum runs.
 * source: JVMS §5.5
 * effect: breaks
 */
class EnumSwitch {
    private static int width(java.sql.JDBCType type) {
        try {
            switch (type) {
                case BIGINT: return 8;
                default: return 0;
            }
        } catch (NullPointerException expected) {
            return -1;
        }
    }

    public static void main(String[] args) {
        System.out.println(width(null));
    }
}
