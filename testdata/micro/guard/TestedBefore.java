package guard;

/*
 * A library finds out whether a type is there before it uses others of the same module.
 * source: Java SE API Class.forName
 * effect: guarded
 */
class TestedBefore {
    private final boolean dates = available();

    private static boolean available() {
        try {
            Class.forName("java.sql.Driver");
            return true;
        } catch (ClassNotFoundException missing) {
            return false;
        }
    }

    static class TestedBeforeDates {
        static int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    public static void main(String[] args) {
        System.out.println(new TestedBefore().dates ? "level " + TestedBeforeDates.nanos() : "without: dates");
    }
}
