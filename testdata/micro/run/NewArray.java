package run;

/*
 * An array of a missing class is created.
 * source: JVMS §6.5 anewarray
 * effect: breaks
 */
class NewArray {
    public static void main(String[] args) {
        Object dates = new java.sql.Date[3];
        System.out.println(dates.getClass().isArray());
    }
}
