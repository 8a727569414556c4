package names;

import java.io.File;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.util.Enumeration;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;

/*
 * A container looks through the archives that have a file of beans for classes with annotations.
 * source: Jakarta Contexts and Dependency Injection specification, "Bean archives"
 * effect: breaks
 * packed: yes
 */
public class BeanArchive {
    @Retention(RetentionPolicy.RUNTIME)
    public @interface Scoped {
    }

    @Scoped
    public static class Tide implements Runnable {
        public void run() {
            System.out.println("high water at " + new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static void main(String[] args) throws Exception {
        String own = System.getProperty("java.class.path").split(File.pathSeparator)[0];
        try (JarFile jar = new JarFile(own)) {
            if (jar.getEntry("META-INF/beans.xml") == null) {
                return;
            }
            for (Enumeration<JarEntry> entries = jar.entries(); entries.hasMoreElements();) {
                String name = entries.nextElement().getName();
                if (name.endsWith("$Tide.class")) {
                    Class<?> found = Class.forName(name.substring(0, name.length() - 6).replace('/', '.'));
                    if (found.getAnnotations().length > 0) {
                        ((Runnable) found.getDeclaredConstructor().newInstance()).run();
                    }
                }
            }
        }
    }
}
