package inspect;

/*
 * A record with a component of a missing type is printed.
 * source: JEP 395, Java SE API java.lang.runtime.ObjectMethods
 * effect: breaks
 */
class RecordToString {
    record Reading(java.sql.Timestamp when, int level) { }

    public static void main(String[] args) {
        System.out.println(new Reading(null, 212));
    }
}
