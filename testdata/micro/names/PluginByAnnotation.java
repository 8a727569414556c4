package names;

import java.io.File;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.util.Enumeration;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;

/*
 * The program walks a jar beside it and runs the classes that carry an annotation; nothing else leads to them.
 * source: observed
 * effect: breaks
 * packed: yes
 * library: Tide
 */
public class PluginByAnnotation {
    @Retention(RetentionPolicy.RUNTIME)
    public @interface Plugin {
    }

    @Plugin
    public static class Tide implements Runnable {
        public void run() {
            System.out.println("high water at " + new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static void main(String[] args) throws Exception {
        File own = new File(System.getProperty("java.class.path")).getAbsoluteFile();
        try (JarFile jar = new JarFile(new File(own.getParentFile(), "lib.jar"))) {
            for (Enumeration<JarEntry> entries = jar.entries(); entries.hasMoreElements();) {
                String name = entries.nextElement().getName();
                if (name.endsWith(".class")) {
                    Class<?> found = Class.forName(name.substring(0, name.length() - 6).replace('/', '.'));
                    if (found.isAnnotationPresent(Plugin.class)) {
                        ((Runnable) found.getDeclaredConstructor().newInstance()).run();
                    }
                }
            }
        }
    }
}
