package link;

/*
 * Two missing types meet where a stack map frame records a third.
 * source: JVMS §4.7.4, §4.10.1.2
 * effect: breaks
 */
class MergePoint {
    private static Object either(boolean first, java.sql.SQLWarning warning, java.sql.BatchUpdateException batch) {
        java.sql.SQLException error;
        if (first) error = warning; else error = batch;
        return error;
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
