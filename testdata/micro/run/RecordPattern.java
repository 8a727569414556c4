package run;

/*
 * A record pattern takes a component of a missing type apart.
 * source: JEP 440
 * effect: breaks
 * compiler: 25
 */
class RecordPattern {
    record Reading(Object when, int level) { }

    public static void main(String[] args) {
        Object reading = new Reading("12:40", 212);
        if (reading instanceof Reading(java.sql.Date when, int level)) {
            System.out.println("dated " + level);
        } else {
            System.out.println("undated");
        }
    }
}
