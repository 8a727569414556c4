package features;

/*
 * The linker is asked for by name.
 * source: Java SE API java.util.spi.ToolProvider, JEP 282
 * module: jdk.jlink
 * also: jdk.compiler
 * effect: degrades
 */
class LinkTool {
    public static void main(String[] args) {
        System.out.println(java.util.spi.ToolProvider.findFirst("jlink").isPresent());
    }
}
