package inspect;

/*
 * A record with a component of a missing type is put into a hash set.
 * source: JEP 395, Java SE API java.lang.runtime.ObjectMethods
 * effect: breaks
 */
class RecordHash {
    record Reading(java.sql.Timestamp when, int level) { }

    public static void main(String[] args) {
        System.out.println(new java.util.HashSet<Object>(java.util.List.of(new Reading(null, 212))).size());
    }
}
