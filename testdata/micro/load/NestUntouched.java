package load;

/*
 * A class is used that is nested in one whose superclass is missing, and nobody asks for the host of its nest.
 * source: JVMS §5.4.4; observed
 * effect: fine
 */
class NestUntouched {
    public static void main(String[] args) {
        System.out.println(new NestUntouchedAround.Reading().level());
    }
}

class NestUntouchedAround extends java.sql.Timestamp {
    NestUntouchedAround() { super(0L); }

    static class Reading {
        int level() { return 212; }
    }
}
