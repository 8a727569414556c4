package run;

/*
 * A class literal of a missing class is evaluated.
 * source: JVMS §6.5 ldc
 * effect: breaks
 */
class ClassLiteral {
    public static void main(String[] args) {
        System.out.println(java.sql.Driver.class.isInterface());
    }
}
