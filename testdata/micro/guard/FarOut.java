package guard;

/*
 * Far out, around all that configures the program, absence is caught: what was to be configured is lost.
 * source: observed
 * effect: degrades
 * packed: yes
 */
public class FarOut {
    static String board = "no board";

    static void configure() {
        appenders();
    }

    static void appenders() {
        appender("tide");
    }

    static void appender(String name) {
        layout(name);
    }

    static void layout(String name) {
        board = name + " at " + new java.sql.Timestamp(0L).getNanos();
    }

    public static void main(String[] args) {
        try {
            configure();
        } catch (NoClassDefFoundError absent) {
            board = "no board";
        }
        System.out.println(board);
    }
}
