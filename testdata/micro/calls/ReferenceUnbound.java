package calls;

/*
 * A method reference without receiver is called on an object of a subclass, whose method needs a missing class.
 * source: Reif et al., ISSTA 2019, method references
 * effect: breaks
 * category: Method references
 */
class ReferenceUnbound {
    int nanos() { return 0; }

    static class Precise extends ReferenceUnbound {
        @Override int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) {
        java.util.function.ToIntFunction<ReferenceUnbound> clock = ReferenceUnbound::nanos;
        System.out.println(clock.applyAsInt(new Precise()));
    }
}
