package features;

import java.io.StringWriter;
import java.net.URI;
import java.util.List;
import javax.tools.JavaCompiler;
import javax.tools.JavaFileObject;
import javax.tools.SimpleJavaFileObject;
import javax.tools.ToolProvider;

/*
 * A source is compiled by a program that stands in a jar: the class path of the program is that of the compiler, which
 * opens jars as file systems.
 * source: module descriptors (jdk.compiler requires jdk.zipfs from 19); observed
 * module: jdk.zipfs
 * also: jdk.compiler java.compiler
 * effect: breaks
 * packed: yes
 */
public class CompileBesideJar {
    static class Source extends SimpleJavaFileObject {
        Source() {
            super(URI.create("string:///Gauge.java"), Kind.SOURCE);
        }

        @Override
        public CharSequence getCharContent(boolean ignoreErrors) {
            return "class Gauge { }";
        }
    }

    public static void main(String[] args) throws Exception {
        JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
        List<JavaFileObject> sources = List.of(new Source());
        String folder = java.nio.file.Files.createTempDirectory("tide").toString();
        List<String> options = List.of("-proc:none", "-d", folder);
        if (!compiler.getTask(new StringWriter(), null, null, options, null, sources).call()) {
            throw new IllegalStateException("it does not compile");
        }
        System.out.println("compiled");
    }
}
