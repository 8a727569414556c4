package names;

/*
 * One text holds the names of several classes, and code takes it apart.
 * source: observed
 * effect: breaks
 * packed: yes
 */
public class ListedText {
    public interface Gauge {
        String read();
    }

    public static class Plain implements Gauge {
        public String read() {
            return "212 cm";
        }
    }

    public static class Timed implements Gauge {
        public String read() {
            return "212 cm at " + new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) throws Exception {
        for (String name : "names.ListedText$Plain,names.ListedText$Timed".split(",")) {
            System.out.println(((Gauge) Class.forName(name).getDeclaredConstructor().newInstance()).read());
        }
    }
}
