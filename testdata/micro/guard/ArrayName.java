package guard;

/*
 * An array class of a missing class is looked up by name, and its absence is caught.
 * source: Java SE API Class.forName
 * effect: guarded
 */
class ArrayName {
    public static void main(String[] args) {
        try {
            System.out.println(Class.forName("[Ljava.sql.Date;").isArray());
        } catch (ClassNotFoundException missing) {
            System.out.println("without: dates");
        }
    }
}
