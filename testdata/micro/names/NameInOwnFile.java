package names;

/*
 * The name of a class stands in a file of no known format.
 * source: Java SE API Class.forName
 * effect: breaks
 */
public class NameInOwnFile {
    public static class Gauge {
        public String toString() {
            return "" + new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) throws Exception {
        String text = new String(NameInOwnFile.class.getResourceAsStream("/gauges.conf").readAllBytes());
        System.out.println(Class.forName(text.split("'")[1]).getConstructor().newInstance());
    }
}
