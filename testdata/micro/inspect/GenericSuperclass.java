package inspect;

/*
 * The generic superclass is asked for, and its argument is missing.
 * source: Java SE API TypeNotPresentException
 * effect: breaks
 */
class GenericSuperclass {
    static class Log extends java.util.ArrayList<java.sql.Date> { }

    public static void main(String[] args) {
        System.out.println(Log.class.getGenericSuperclass() != null);
    }
}
