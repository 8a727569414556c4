package run;

/*
 * An instruction creates an object of a missing class.
 * source: JVMS §5.4, §6.5 new
 * effect: breaks
 */
class New {
    public static void main(String[] args) {
        System.out.println(new java.sql.Timestamp(0L).getNanos());
    }
}
