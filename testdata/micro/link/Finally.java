package link;

/*
 * A value of a missing type is closed in a finally clause.
 * source: JLS §14.20.2, JVMS §4.10.1.2
 * effect: fine
 */
class Finally {
    private static void use(java.sql.Connection connection) throws Exception {
        try {
            System.out.println("used");
        } finally {
            connection.close();
        }
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
