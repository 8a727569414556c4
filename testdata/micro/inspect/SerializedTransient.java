package inspect;

/*
 * An object with a transient field of a missing type is serialised.
 * source: JDK sources of ObjectStreamClass
 * effect: breaks
 * category: Serialization
 */
class SerializedTransient {
    static class Reading implements java.io.Serializable {
        private static final long serialVersionUID = 1;
        transient java.sql.Timestamp when;
        int level = 212;
    }

    public static void main(String[] args) throws Exception {
        var out = new java.io.ByteArrayOutputStream();
        new java.io.ObjectOutputStream(out).writeObject(new Reading());
        System.out.println(out.size() > 0);
    }
}
