package link;

/*
 * A local variable of a missing type stands in a stack map frame with that same type.
 * source: JVMS §4.7.4
 * effect: fine
 */
class LocalInFrame {
    private static int count(java.sql.Connection connection) {
        java.sql.Connection same = connection;
        int count = 0;
        while (count < 3 && same != null) {
            count++;
        }
        return count;
    }

    public static void main(String[] args) {
        System.out.println(count(null));
    }
}
