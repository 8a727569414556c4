package features;

/*
 * The archive tool is asked for by name.
 * source: Java SE API java.util.spi.ToolProvider
 * module: jdk.jartool
 * effect: degrades
 */
class JarTool {
    public static void main(String[] args) {
        System.out.println(java.util.spi.ToolProvider.findFirst("jar").isPresent());
    }
}
