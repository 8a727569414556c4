package guard;

/*
 * The absence of a platform class is caught and turned into another exception.
 * source: JLS §11.3
 * effect: breaks
 * category: Class.forName exceptions
 */
class Rethrown {
    public static void main(String[] args) {
        try {
            System.out.println(Class.forName("java.sql.Driver").isInterface());
        } catch (ClassNotFoundException missing) {
            throw new IllegalStateException("no drivers", missing);
        }
    }
}
