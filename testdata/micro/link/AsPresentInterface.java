package link;

/*
 * A value of a missing type is handed over where an interface that is present is expected.
 * source: JVMS §4.10.1.2, HotSpot verificationType.cpp
 * effect: fine
 */
class AsPresentInterface {
    private static void close(AutoCloseable thing) { }
    private static void shut(java.sql.Connection connection) { close(connection); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
