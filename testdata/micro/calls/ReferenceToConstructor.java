package calls;

/*
 * A reference to an own constructor is called; the constructor needs a missing class.
 * source: Reif et al., ISSTA 2019, method references
 * effect: breaks
 * category: Method references
 */
class ReferenceToConstructor {
    final int nanos = new java.sql.Timestamp(0L).getNanos();

    public static void main(String[] args) {
        java.util.function.Supplier<ReferenceToConstructor> maker = ReferenceToConstructor::new;
        System.out.println(maker.get().nanos);
    }
}
