package calls;

/*
 * A hash map calls the hash code of its keys, which needs a missing class.
 * source: Sui et al., ICSE 2020, calls from the platform
 * effect: breaks
 * category: Lambdas
 */
class CallbackByMap {
    static class Key {
        @Override public int hashCode() { return new java.sql.Timestamp(0L).getNanos(); }
        @Override public boolean equals(Object other) { return other instanceof Key; }
    }

    public static void main(String[] args) {
        System.out.println(new java.util.HashMap<>(java.util.Map.of(new Key(), 1)).size());
    }
}
