package run;

/*
 * Null is tested for being an instance of a missing type.
 * source: JVMS §6.5 instanceof
 * effect: fine
 */
class TestOfNull {
    static Object held;

    public static void main(String[] args) {
        System.out.println(held instanceof java.sql.Date);
    }
}
