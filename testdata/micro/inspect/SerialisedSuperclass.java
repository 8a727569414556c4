package inspect;

/*
 * The superclass of what is serialised is asked for its fields.
 * source: Java Object Serialization Specification §4
 * effect: breaks
 */
public class SerialisedSuperclass {
    public static class Reading implements java.io.Serializable {
        transient java.sql.Connection source;
    }

    public static class Tide extends Reading {
        int level = 4;
    }

    public static void main(String[] args) throws Exception {
        var bytes = new java.io.ByteArrayOutputStream();
        new java.io.ObjectOutputStream(bytes).writeObject(new Tide());
        System.out.println(bytes.size() > 0);
    }
}
