package inspect;

/*
 * The components of a record are asked for, one of which has a missing type.
 * source: JEP 395, Java SE API Class.getRecordComponents
 * effect: breaks
 */
class RecordComponents {
    record Reading(java.sql.Timestamp when, int level) { }

    public static void main(String[] args) {
        System.out.println(Reading.class.getRecordComponents().length);
    }
}
