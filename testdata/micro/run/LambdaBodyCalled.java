package run;

/*
 * The body of a lambda names a missing class, and the lambda is called.
 * source: JVMS §5.4
 * effect: breaks
 * category: Lambdas
 */
class LambdaBodyCalled {
    public static void main(String[] args) {
        java.util.function.Supplier<Object> stamp = () -> new java.sql.Timestamp(0L);
        System.out.println(stamp.get() != null);
    }
}
