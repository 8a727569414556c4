package inspect;

/*
 * Methods are looked up; the method that the compiler made of a lambda has a missing parameter type.
 * source: JLS §15.27.4, Java SE API Class.getDeclaredMethods
 * effect: breaks
 */
class LambdaMethod {
    static class Gauge {
        Object closer() {
            java.util.function.Consumer<java.sql.Connection> close = connection -> { };
            return close;
        }
    }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getDeclaredMethods().length > 0);
    }
}
