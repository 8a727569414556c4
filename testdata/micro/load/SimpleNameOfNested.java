package load;

/*
 * An object of a class that is nested in one whose superclass is missing is asked for the simple name of its class.
 * source: Java SE API java.lang.Class (getSimpleName, getDeclaringClass); observed
 * effect: breaks
 */
class SimpleNameOfNested {
    public static void main(String[] args) {
        System.out.println(((Object) new SimpleNameOfNestedAround.Reading()).getClass().getSimpleName());
    }
}

class SimpleNameOfNestedAround extends java.sql.Timestamp {
    SimpleNameOfNestedAround() { super(0L); }

    static class Reading { }
}
