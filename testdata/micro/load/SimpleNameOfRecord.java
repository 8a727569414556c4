package load;

/*
 * A record is printed that is nested in a class whose superclass is missing: what it prints begins with its simple name.
 * source: JLS §8.10.3, Java SE API java.lang.runtime.ObjectMethods; observed
 * effect: breaks
 */
class SimpleNameOfRecord {
    public static void main(String[] args) {
        System.out.println(new SimpleNameOfRecordAround.Reading(212));
    }
}

class SimpleNameOfRecordAround extends java.sql.Timestamp {
    SimpleNameOfRecordAround() { super(0L); }

    record Reading(int level) { }
}
