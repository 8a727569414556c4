package run;

/*
 * A static field of a missing class is read.
 * source: JVMS §6.5 getstatic
 * effect: breaks
 */
class StaticField {
    public static void main(String[] args) {
        Object type = java.sql.JDBCType.ARRAY;
        System.out.println(type);
    }
}
