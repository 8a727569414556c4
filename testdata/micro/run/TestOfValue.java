package run;

/*
 * An object is tested for being an instance of a missing type.
 * source: JVMS §6.5 instanceof
 * effect: breaks
 */
class TestOfValue {
    static Object held = "12:40";

    public static void main(String[] args) {
        System.out.println(held instanceof java.sql.Date);
    }
}
