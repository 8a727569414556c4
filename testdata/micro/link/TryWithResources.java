package link;

/*
 * A value of a missing type is the resource of a try statement.
 * source: JLS §14.20.3, JVMS §4.10.1.2
 * effect: fine
 */
class TryWithResources {
    private static void use(java.sql.Connection given) throws Exception {
        try (java.sql.Connection connection = given) {
            System.out.println(connection);
        }
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
