package features;

import java.nio.file.Files;
import java.nio.file.Path;
import javax.tools.ToolProvider;

/*
 * A source is compiled by a program that stands in a jar: the class path of the program is that of the compiler, which
 * opens jars as file systems.
 * source: module descriptors (jdk.compiler requires jdk.zipfs from 19); observed
 * module: jdk.zipfs
 * also: jdk.compiler java.compiler
 * effect: breaks on 17, fine on 25
 * packed: yes
 */
public class CompileBesideJar {
    public static void main(String[] args) throws Exception {
        Path folder = Files.createTempDirectory("tide");
        Path source = Files.writeString(folder.resolve("Gauge.java"), "class Gauge { }");
        int result = ToolProvider.getSystemJavaCompiler().run(null, null, null, "-d", folder.toString(), source.toString());
        if (result != 0) {
            throw new IllegalStateException("it does not compile");
        }
        System.out.println("compiled");
    }
}
