package flow;

/**
 * A name stands where it is used.
 * case: 1
 * known: exact
 */
public class ConstantName {
    public static void main(String[] args) throws Exception {
        System.out.println("asks " + Class.forName("java.sql.Driver").getName());
    }
}
