package features;

/*
 * Attaching to other JVMs is probed for by name.
 * source: module jdk.attach
 * module: jdk.attach
 * effect: guarded
 */
class Attach {
    public static void main(String[] args) {
        try {
            System.out.println(Class.forName("com.sun.tools.attach.VirtualMachine").getSimpleName());
        } catch (ClassNotFoundException missing) {
            System.out.println("without: attaching");
        }
    }
}
