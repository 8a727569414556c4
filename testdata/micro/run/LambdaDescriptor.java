package run;

/*
 * A lambda expression with a parameter of a missing type is evaluated, but never called.
 * source: JVMS §5.4.3.5, §6.5 invokedynamic
 * effect: breaks
 * category: Lambdas
 */
class LambdaDescriptor {
    public static void main(String[] args) {
        java.util.function.Consumer<java.sql.Connection> close = connection -> { };
        System.out.println(close != null);
    }
}
