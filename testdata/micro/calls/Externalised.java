package calls;

/*
 * Writing an externalisable object calls its own method, which needs a missing class.
 * source: Java Object Serialization Specification §2.11
 * effect: breaks
 * category: Serialization
 */
public class Externalised implements java.io.Externalizable {
    public void writeExternal(java.io.ObjectOutput out) throws java.io.IOException {
        out.writeInt(new java.sql.Timestamp(0L).getNanos());
    }

    public void readExternal(java.io.ObjectInput in) { }

    public static void main(String[] args) throws Exception {
        var bytes = new java.io.ByteArrayOutputStream();
        new java.io.ObjectOutputStream(bytes).writeObject(new Externalised());
        System.out.println(bytes.size() > 0);
    }
}
