package run;

/*
 * A method reference to a static method of a missing class is evaluated.
 * source: JVMS §5.4.3.5
 * effect: breaks
 * category: Method references
 */
class MethodReference {
    public static void main(String[] args) {
        java.util.function.IntSupplier timeout = java.sql.DriverManager::getLoginTimeout;
        System.out.println(timeout != null);
    }
}
