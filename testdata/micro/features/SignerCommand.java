package features;

/*
 * The signer of archives is started as a command of the image, whose folder is found by itself.
 * source: JDK Tool Specifications
 * module: jdk.jartool
 * judge: image
 * effect: breaks
 */
class SignerCommand {
    public static void main(String[] args) throws Exception {
        java.nio.file.Path folder = java.nio.file.Path.of(System.getProperty("java.home"), "bin");
        String command = folder.resolve("jarsigner").toString();
        System.out.println(Runtime.getRuntime().exec(new String[] {command, "-help"}).waitFor());
    }
}
