package run;

/*
 * A method reference to a missing class stands in a method that nothing calls.
 * source: JVMS §5.4.3.5
 * effect: fine
 * category: Method references
 */
class MethodReferenceUnreached {
    private static java.util.function.IntSupplier timeout() { return java.sql.DriverManager::getLoginTimeout; }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
