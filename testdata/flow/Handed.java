package flow;

/**
 * A builder that another method has had may hold anything.
 * case: 0
 * known: unknown
 */
public class Handed {
    public static void main(String[] args) throws Exception {
        StringBuilder builder = new StringBuilder("java.");
        fill(builder);
        System.out.println("asks " + Class.forName(builder.toString()).getName());
    }

    private static void fill(StringBuilder builder) {
        builder.setLength(0);
        builder.append("java.sql").append(".Driver");
    }
}
