package verifier;

/*
 * An array is cloned, which every class may do.
 * source: JLS §10.7
 */
class CloneOfArray {
    private static Object copy(java.sql.Date[] tides) { return tides.clone(); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
