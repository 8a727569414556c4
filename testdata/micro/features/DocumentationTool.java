package features;

/*
 * The system's documentation tool is asked for: null says that there is none.
 * source: Java SE API javax.tools.ToolProvider
 * module: jdk.javadoc
 * also: java.compiler jdk.compiler
 * effect: degrades
 */
class DocumentationTool {
    public static void main(String[] args) {
        System.out.println(javax.tools.ToolProvider.getSystemDocumentationTool() != null);
    }
}
