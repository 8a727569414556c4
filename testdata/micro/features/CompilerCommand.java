package features;

/*
 * The compiler is started as a command of the image.
 * source: JDK Tool Specifications
 * module: jdk.compiler
 * judge: image
 * effect: breaks
 */
class CompilerCommand {
    public static void main(String[] args) throws Exception {
        String command = System.getProperty("java.home") + "/bin/javac";
        System.out.println(new ProcessBuilder(command, "-version").inheritIO().start().waitFor());
    }
}
