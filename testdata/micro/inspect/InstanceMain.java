package inspect;

/*
 * A main class with an instance main method has a private method with a missing type in its signature.
 * source: JEP 512, JDK sources of jdk.internal.misc.MethodFinder
 * effect: breaks
 * compiler: 25
 */
class InstanceMain {
    private static void store(java.sql.Connection connection) { }

    void main() {
        System.out.println("level 212 cm");
    }
}
