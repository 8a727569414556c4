package load;

/*
 * Of two classes nested in one whose superclass is missing, the first reads a private field of the second.
 * source: JVMS §5.4.4; observed
 * effect: breaks
 */
class NestPrivateField {
    public static void main(String[] args) {
        System.out.println(new NestPrivateFieldAround.Reading().level());
    }
}

class NestPrivateFieldAround extends java.sql.Timestamp {
    NestPrivateFieldAround() { super(0L); }

    static class Reading {
        int level() { return new Gauge().centimetres; }
    }

    static class Gauge {
        private int centimetres = 212;
    }
}
