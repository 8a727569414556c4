package flow;

/**
 * Names in an array that a loop goes through, and a builder made anew each time.
 * case: 0
 * known: exact
 */
public class InLoop {
    public static void main(String[] args) throws Exception {
        String[] names = {"java.sql.Driver", "java.sql.Date"};
        for (String name : names) {
            System.out.println("asks " + Class.forName(name).getName());
        }
        for (int round = 0; round < 2; round++) {
            StringBuilder builder = new StringBuilder("java.sql.");
            builder.append(round == 0 ? "Time" : "Timestamp");
            System.out.println("asks " + Class.forName(builder.toString()).getName());
        }
    }
}
