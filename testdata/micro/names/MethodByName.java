package names;

/*
 * An own method is called by name; it needs a missing class.
 * source: Reif et al., ISSTA 2019, trivial reflection
 * effect: breaks
 * category: Reflection: trivial
 */
class MethodByName {
    public static class Clock {
        public static int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Clock.class.getMethod("nanos").invoke(null));
    }
}
