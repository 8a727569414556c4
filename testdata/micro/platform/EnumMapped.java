package platform;

/*
 * A map is made for the class of an enum.
 * source: Java SE API EnumMap
 * effect: breaks
 */
public class EnumMapped {
    enum Kind {
        A;
        static final int N = new java.sql.Timestamp(0L).getNanos();
    }

    public static void main(String[] args) {
        System.out.println(new java.util.EnumMap<Kind, String>(Kind.class).size());
    }
}
