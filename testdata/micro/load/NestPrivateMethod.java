package load;

/*
 * Of two classes nested in one whose superclass is missing, the first calls a private method of the second.
 * source: JVMS §5.4.4; observed
 * effect: breaks
 */
class NestPrivateMethod {
    public static void main(String[] args) {
        System.out.println(new NestPrivateMethodAround.Reading().level());
    }
}

class NestPrivateMethodAround extends java.sql.Timestamp {
    NestPrivateMethodAround() { super(0L); }

    static class Reading {
        int level() { return new Gauge().centimetres(); }
    }

    static class Gauge {
        private int centimetres() { return 212; }
    }
}
