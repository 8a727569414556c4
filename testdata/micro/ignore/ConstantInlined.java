package ignore;

/*
 * A constant variable of a missing class is used; the compiler puts its value in place.
 * source: JLS §13.1, JLS §15.29
 * effect: fine
 */
class ConstantInlined {
    public static void main(String[] args) {
        System.out.println(java.sql.Types.INTEGER);
    }
}
