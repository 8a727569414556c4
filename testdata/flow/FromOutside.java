package flow;

/**
 * The name is an argument of the program.
 * case: 8
 * known: unknown
 */
public class FromOutside {
    public static void main(String[] args) throws Exception {
        System.out.println("asks " + Class.forName(args[0]).getName());
    }
}
