package calls;

/*
 * A method reference bound to an object is called; the method needs a missing class.
 * source: Reif et al., ISSTA 2019, method references
 * effect: breaks
 * category: Method references
 */
class ReferenceBound {
    int nanos() { return new java.sql.Timestamp(0L).getNanos(); }

    public static void main(String[] args) {
        java.util.function.IntSupplier clock = new ReferenceBound()::nanos;
        System.out.println(clock.getAsInt());
    }
}
