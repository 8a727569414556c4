package load;

/*
 * A superclass has a missing class as its type argument.
 * source: JVMS §4.7.9.1
 * effect: fine
 */
class TypeArgumentOfSuperclass {
    static class Log extends java.util.ArrayList<java.sql.Date> { }

    public static void main(String[] args) {
        System.out.println(new Log().size());
    }
}
