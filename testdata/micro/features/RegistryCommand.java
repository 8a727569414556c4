package features;

/*
 * The registry of remote objects is started as a command of the image.
 * source: JDK Tool Specifications
 * module: java.rmi
 * judge: image
 * effect: breaks
 */
class RegistryCommand {
    public static void main(String[] args) throws Exception {
        String command = System.getProperty("java.home") + java.io.File.separator + "bin/rmiregistry";
        Process registry = new ProcessBuilder(command, "0").start();
        registry.destroy();
        System.out.println(registry.isAlive() || registry.waitFor() != 0);
    }
}
