package run;

/*
 * A missing class is created in a branch that a constant switches off: the compiler leaves it out.
 * source: JLS §14.22
 * effect: fine
 */
class BranchNeverTaken {
    static final boolean DATED = false;

    public static void main(String[] args) {
        Object when = "undated";
        if (DATED) {
            when = new java.sql.Timestamp(0L);
        }
        System.out.println(when);
    }
}
