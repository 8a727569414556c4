package calls;

/*
 * A chain of private and static methods leads to a missing class.
 * source: Reif et al., ISSTA 2019, non-virtual calls
 * effect: breaks
 * category: Non-virtual calls
 */
class Private {
    private int deeper() { return deepest(); }
    private static int deepest() { return new java.sql.Timestamp(0L).getNanos(); }

    public static void main(String[] args) {
        System.out.println(new Private().deeper());
    }
}
