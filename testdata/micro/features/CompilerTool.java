package features;

/*
 * The compiler is asked for as a tool, by name.
 * source: Java SE API java.util.spi.ToolProvider
 * module: jdk.compiler
 * effect: degrades
 */
class CompilerTool {
    public static void main(String[] args) {
        System.out.println(java.util.spi.ToolProvider.findFirst("javac").isPresent());
    }
}
