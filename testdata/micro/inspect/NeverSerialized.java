package inspect;

/*
 * A serialisable class has a field of a missing type, but nothing is serialised.
 * source: JVMS §5.4.3.2
 * effect: fine
 * category: Serialization
 */
class NeverSerialized {
    static class Reading implements java.io.Serializable {
        private static final long serialVersionUID = 1;
        java.sql.Timestamp when;
        int level = 212;
    }

    public static void main(String[] args) {
        System.out.println(new Reading().level);
    }
}
