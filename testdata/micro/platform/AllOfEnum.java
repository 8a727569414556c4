package platform;

/*
 * A set of all constants of an enum is made from its class.
 * source: Java SE API EnumSet.allOf
 * effect: breaks
 */
public class AllOfEnum {
    enum Kind {
        A;
        static final int N = new java.sql.Timestamp(0L).getNanos();
    }

    public static void main(String[] args) {
        System.out.println(java.util.EnumSet.allOf(Kind.class).size());
    }
}
