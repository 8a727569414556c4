package inspect;

/*
 * The main class has a private method with a missing type in its signature.
 * source: JDK sources of sun.launcher.LauncherHelper
 * effect: fine
 */
class MainPrivateMethod {
    private static void store(java.sql.Connection connection) { }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
