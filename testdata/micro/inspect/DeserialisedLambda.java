package inspect;

/*
 * A lambda comes back from a stream: the class that captured it is asked for one of its methods, and so for the types of all.
 * source: Java SE API SerializedLambda; JDK sources of Class.getDeclaredMethod
 * effect: breaks
 * library: Kit
 */
public class DeserialisedLambda {
    public static class Kit {
        public interface Reading extends java.io.Serializable {
            String level();
        }

        public static String shipped(Reading reading) throws Exception {
            var bytes = new java.io.ByteArrayOutputStream();
            new java.io.ObjectOutputStream(bytes).writeObject(reading);
            var in = new java.io.ObjectInputStream(new java.io.ByteArrayInputStream(bytes.toByteArray()));
            return ((Reading) in.readObject()).level();
        }
    }

    static class Harbour {
        String shown(java.sql.Timestamp when) { return when.toString(); }

        static String level() throws Exception { return Kit.shipped(() -> "212"); }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Harbour.level());
    }
}
