package inspect;

/*
 * A record with a component of a missing type is made and read.
 * source: JEP 395
 * effect: fine
 */
class RecordUse {
    record Reading(java.sql.Timestamp when, int level) { }

    public static void main(String[] args) {
        System.out.println(new Reading(null, 212).level());
    }
}
