package platform;

/*
 * A constant is looked up by its name in the class of an enum.
 * source: Java SE API Enum.valueOf
 * effect: breaks
 */
public class EnumByName {
    enum Kind {
        A;
        static final int N = new java.sql.Timestamp(0L).getNanos();
    }

    static <E extends Enum<E>> E of(Class<E> c, String n) {
        return Enum.valueOf(c, n);
    }

    public static void main(String[] args) {
        System.out.println(of(Kind.class, "A"));
    }
}
