package guard;

/*
 * A missing platform class is looked up by name, and its absence is caught.
 * source: Java SE API Class.forName
 * effect: guarded
 * category: Class.forName exceptions
 */
class ForNameGuarded {
    public static void main(String[] args) {
        try {
            System.out.println(Class.forName("java.sql.Driver").isInterface());
        } catch (ClassNotFoundException missing) {
            System.out.println("without: drivers");
        }
    }
}
