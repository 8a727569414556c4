package features;

/*
 * The system's Java compiler is asked for: null says that there is none.
 * source: Java SE API javax.tools.ToolProvider
 * module: jdk.compiler
 * also: java.compiler
 * effect: degrades
 */
class Compiler {
    public static void main(String[] args) {
        System.out.println(javax.tools.ToolProvider.getSystemJavaCompiler() != null);
    }
}
