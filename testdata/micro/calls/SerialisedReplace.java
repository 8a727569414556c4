package calls;

/*
 * Writing an object to a stream asks for its replacement, which needs a missing class.
 * source: Java Object Serialization Specification §2.5
 * effect: breaks
 * category: Serialization
 */
class SerialisedReplace implements java.io.Serializable {
    private static final long serialVersionUID = 1;

    private Object writeReplace() { return String.valueOf(new java.sql.Timestamp(0L).getNanos()); }

    public static void main(String[] args) throws Exception {
        var bytes = new java.io.ByteArrayOutputStream();
        new java.io.ObjectOutputStream(bytes).writeObject(new SerialisedReplace());
        System.out.println(bytes.size() > 0);
    }
}
