package flow;

/**
 * A name made of the name of another class.
 * case: 0
 * known: exact
 */
public class OwnPackage {
    public static void main(String[] args) throws Exception {
        String name = OwnPackage.class.getPackage().getName() + ".Gauge";
        System.out.println("asks " + Class.forName(name).getName());
        System.out.println("asks " + Class.forName(OwnPackage.class.getName() + "$Inner").getName());
    }

    static final class Inner {}
}
