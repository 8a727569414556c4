package calls;

/*
 * A lambda is written to a stream, read again and called; its body needs a missing class.
 * source: Java SE API java.lang.invoke.SerializedLambda
 * effect: breaks
 * category: Serialization
 */
class SerialisedLambda {
    interface Clock extends java.io.Serializable { int nanos(); }

    public static void main(String[] args) throws Exception {
        Clock clock = () -> new java.sql.Timestamp(0L).getNanos();
        var bytes = new java.io.ByteArrayOutputStream();
        new java.io.ObjectOutputStream(bytes).writeObject(clock);
        var in = new java.io.ObjectInputStream(new java.io.ByteArrayInputStream(bytes.toByteArray()));
        System.out.println(((Clock) in.readObject()).nanos());
    }
}
