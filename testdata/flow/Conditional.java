package flow;

/**
 * One of two names, by a condition; a third by a switch.
 * case: 2
 * known: exact
 */
public class Conditional {
    public static void main(String[] args) throws Exception {
        String name = args.length > 3 ? "javax.naming.Context" : "java.sql.Driver";
        System.out.println("asks " + Class.forName(name).getName());
        String gauge;
        switch (args.length) {
            case 0:
                gauge = "java.util.logging.Logger";
                break;
            case 1:
                gauge = "java.util.logging.Level";
                break;
            default:
                gauge = null;
        }
        System.out.println("asks " + Class.forName(gauge).getName());
    }
}
