package run;

/*
 * Only the body of a lambda names a missing class, and nobody calls the lambda.
 * source: JVMS §5.4
 * effect: fine
 * category: Lambdas
 */
class LambdaBody {
    public static void main(String[] args) {
        java.util.function.Supplier<Object> stamp = () -> new java.sql.Timestamp(0L);
        System.out.println(stamp != null);
    }
}
