package calls;

/*
 * A lambda is handed to the platform, which calls it; its body needs a missing class.
 * source: Reif et al., ISSTA 2019, lambdas
 * effect: breaks
 * category: Lambdas
 */
class LambdaToPlatform {
    public static void main(String[] args) {
        java.util.List.of(1L, 2L).forEach(time -> System.out.println(new java.sql.Timestamp(time).getNanos()));
    }
}
