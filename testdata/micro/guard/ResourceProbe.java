package guard;

/*
 * A program asks for a class file as a resource to learn whether the class is there.
 * source: Java SE API Class.getResource
 * effect: guarded
 */
class ResourceProbe {
    public static void main(String[] args) {
        boolean there = Object.class.getResource("/java/sql/Driver.class") != null
            || ClassLoader.getSystemResource("java/sql/Driver.class") != null;
        System.out.println(there ? "drivers" : "without: drivers");
    }
}
