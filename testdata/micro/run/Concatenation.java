package run;

/*
 * A value of a missing type is concatenated to a string, compiled today: the compiler turns it into a string first.
 * source: JDK-8273914, JLS §15.18.1
 * effect: fine
 * compiler: 25
 */
class Concatenation {
    static java.sql.Connection connection;

    public static void main(String[] args) {
        System.out.println("store: " + connection);
    }
}
