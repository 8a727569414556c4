package inspect;

/*
 * A library calls the method that an argument names, on whatever object it was given.
 * source: Java SE API Class.getMethod
 * effect: breaks
 * library: Line
 * packed: yes
 */
public class ApplicationCommand {
    public static class Commands {
        public void level() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static class Line {
        static void run(Object commands, String name) throws Exception {
            commands.getClass().getMethod(name).invoke(commands);
        }
    }

    public static void main(String[] args) throws Exception {
        Line.run(new Commands(), args.length == 0 ? "LEVEL".toLowerCase() : args[0]);
    }
}
