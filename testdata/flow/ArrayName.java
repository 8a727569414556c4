package flow;

/**
 * The name of an array class asks for the class of its elements.
 * case: 11
 * known: exact
 */
public class ArrayName {
    public static void main(String[] args) throws Exception {
        System.out.println("asks " + Class.forName("[Ljava.sql.Date;").getComponentType().getName());
        System.out.println("asks " + Class.forName("[[L" + Names.DRIVER + ";").getComponentType().getComponentType()
            .getName());
    }

    static final class Names {
        static final String DRIVER = String.valueOf("java.sql.Driver");
    }
}
