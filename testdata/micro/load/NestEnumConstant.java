package load;

/*
 * An enum whose constants have bodies is nested in a class whose superclass is missing: its constants call a private
 * constructor, so that both sides resolve the host of their nest.
 * source: JVMS §5.4.4; observed
 * effect: breaks
 */
class NestEnumConstant {
    public static void main(String[] args) {
        System.out.println(NestEnumConstantAround.Tide.EBB.turn());
    }
}

class NestEnumConstantAround extends java.sql.Timestamp {
    NestEnumConstantAround() { super(0L); }

    enum Tide {
        EBB { String turn() { return "low water"; } };

        abstract String turn();
    }
}
