package run;

/*
 * An object is cast to a missing type.
 * source: JVMS §6.5 checkcast
 * effect: breaks
 */
class CastOfValue {
    static Object held = "12:40";

    public static void main(String[] args) {
        try {
            System.out.println(((java.sql.Date) held) == null);
        } catch (ClassCastException expected) {
            System.out.println("no date");
        }
    }
}
