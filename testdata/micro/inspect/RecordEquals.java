package inspect;

/*
 * Two records with a component of a missing type are compared.
 * source: JEP 395, Java SE API java.lang.runtime.ObjectMethods
 * effect: breaks
 */
class RecordEquals {
    record Reading(java.sql.Timestamp when, int level) { }

    public static void main(String[] args) {
        System.out.println(new Reading(null, 212).equals(new Reading(null, 213)));
    }
}
