package run;

/*
 * An array of arrays of a missing class is created.
 * source: JVMS §6.5 multianewarray
 * effect: breaks
 */
class NewArrays {
    public static void main(String[] args) {
        Object dates = new java.sql.Date[3][2];
        System.out.println(dates.getClass().isArray());
    }
}
