package verifier;

/*
 * A variable changes its class while a handler covers it; the handler's frame records a missing superclass.
 * source: JVMS §4.10.1.4
 * breaks: java/sql/SQLException
 */
class HandlerLocal {
    private static Object read(java.sql.SQLWarning warning, java.sql.BatchUpdateException batch, Runnable reading) {
        java.sql.SQLException error = warning;
        try {
            reading.run();
            error = batch;
            reading.run();
        } catch (RuntimeException failure) {
            return error;
        }
        return null;
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
