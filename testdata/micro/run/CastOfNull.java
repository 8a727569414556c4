package run;

/*
 * Null is cast to a missing type.
 * source: JVMS §6.5 checkcast
 * effect: fine
 */
class CastOfNull {
    static Object held;

    public static void main(String[] args) {
        java.sql.Date date = (java.sql.Date) held;
        System.out.println(date == null);
    }
}
