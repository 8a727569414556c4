package link;

/*
 * A value of a missing type is returned where a class that is present is promised.
 * source: JVMS §4.10.1.9 areturn
 * effect: breaks
 * category: Type casts
 */
class ReturnedAsPresentClass {
    private static java.util.Date when(java.sql.Timestamp stamp) { return stamp; }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
