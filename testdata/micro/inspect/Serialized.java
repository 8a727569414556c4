package inspect;

/*
 * An object with a field of a missing type is serialised.
 * source: Java Object Serialization Specification §4.3, JDK sources of ObjectStreamClass
 * effect: breaks
 * category: Serialization
 */
class Serialized {
    static class Reading implements java.io.Serializable {
        private static final long serialVersionUID = 1;
        java.sql.Timestamp when;
    }

    public static void main(String[] args) throws Exception {
        var out = new java.io.ByteArrayOutputStream();
        new java.io.ObjectOutputStream(out).writeObject(new Reading());
        System.out.println(out.size() > 0);
    }
}
