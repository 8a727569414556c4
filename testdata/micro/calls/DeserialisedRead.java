package calls;

/*
 * Reading an object from a stream calls its private method, which needs a missing class.
 * source: Java Object Serialization Specification §3.4
 * effect: breaks
 * category: Serialization
 */
class DeserialisedRead implements java.io.Serializable {
    private static final long serialVersionUID = 1;

    private void readObject(java.io.ObjectInputStream in) {
        System.out.println(new java.sql.Timestamp(0L).getNanos());
    }

    public static void main(String[] args) throws Exception {
        var bytes = new java.io.ByteArrayOutputStream();
        new java.io.ObjectOutputStream(bytes).writeObject(new DeserialisedRead());
        new java.io.ObjectInputStream(new java.io.ByteArrayInputStream(bytes.toByteArray())).readObject();
    }
}
