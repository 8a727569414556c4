package run;

/*
 * The same failing instruction runs twice: a failed resolution is remembered.
 * source: JVMS §5.4.3
 * effect: guarded
 */
class SecondTry {
    private static Object stamp() {
        try {
            return new java.sql.Timestamp(0L);
        } catch (NoClassDefFoundError missing) {
            return null;
        }
    }

    public static void main(String[] args) {
        boolean both = stamp() != null & stamp() != null;
        System.out.println(both ? "stamped" : "without: stamps");
    }
}
