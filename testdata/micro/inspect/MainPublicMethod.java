package inspect;

/*
 * The main class has a public method with a missing type in its signature: the launcher inspects it.
 * source: JDK sources of sun.launcher.LauncherHelper
 * effect: breaks
 */
class MainPublicMethod {
    public static void store(java.sql.Connection connection) { }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
