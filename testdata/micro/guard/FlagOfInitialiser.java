package guard;

/*
 * A static initialiser finds out whether a type is there, and the library asks it first.
 * source: observed
 * effect: guarded
 * packed: yes
 */
public class FlagOfInitialiser {
    static class Support {
        static final boolean HAS_TIMES;

        static {
            boolean has;
            try {
                Class.forName("java.sql.Timestamp");
                has = true;
            } catch (ClassNotFoundException absent) {
                has = false;
            }
            HAS_TIMES = has;
        }
    }

    static class Times {
        static String now() {
            return "at " + new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) {
        System.out.println(Support.HAS_TIMES ? Times.now() : "without: no times");
    }
}
