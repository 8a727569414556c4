package flow;

/**
 * A builder collects the name, in one chain and in several steps.
 * case: 3
 * known: exact
 */
public class Builder {
    public static void main(String[] args) throws Exception {
        String name = new StringBuilder("java").append('.').append("sql").append(".Driver").toString();
        System.out.println("asks " + Class.forName(name).getName());
        StringBuilder builder = new StringBuilder();
        builder.append("logging.").insert(0, "java.util.");
        if (args.length == 0) {
            builder.append("Level");
        } else {
            builder.append("Logger");
        }
        System.out.println("asks " + Class.forName(builder.toString()).getName());
        StringBuffer buffer = new StringBuffer(40);
        buffer.append("java.sql.");
        buffer.append((Object) "Date");
        System.out.println("asks " + Class.forName(buffer.toString()).getName());
    }
}
