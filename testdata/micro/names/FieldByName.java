package names;

/*
 * A field of an own class is read by name, which runs its initialiser, which needs a missing class.
 * source: Reif et al., ISSTA 2019, trivial reflection
 * effect: breaks
 * category: Reflection: trivial
 */
class FieldByName {
    public static class Clock {
        public static final Object START = new java.sql.Timestamp(0L);
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Clock.class.getField("START").get(null) != null);
    }
}
