package flow;

/**
 * The name stands in a static final field of another class.
 * case: 4
 * known: exact
 */
public class OtherField {
    public static void main(String[] args) throws Exception {
        System.out.println("asks " + Class.forName(Names.DRIVER).getName());
        System.out.println("asks " + Class.forName(new Names("java.sql.Date").own).getName());
        for (String name : Names.ALL) {
            System.out.println("asks " + Class.forName(name).getName());
        }
    }

    static final class Names {
        static final String DRIVER = driver();
        static final String[] ALL = {"java.sql.Time", "java.sql.Timestamp"};

        final String own;

        Names(String own) {
            this.own = own;
        }

        static String driver() {
            return "java.sql.Driver";
        }
    }
}
