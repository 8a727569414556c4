package names;

import java.io.InputStream;
import java.util.jar.Manifest;

/*
 * A launcher of a library creates the class that a header of its own in the manifest names.
 * source: JAR File Specification, "Main Attributes": applications may define further ones
 * effect: breaks
 * library: Launcher
 * packed: yes
 */
public class HeaderOfLauncher {
    public static class Station implements Runnable {
        public void run() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static class Launcher {
        static void start(Class<?> of) throws Exception {
            try (InputStream file = of.getResourceAsStream("/META-INF/MANIFEST.MF")) {
                var name = new Manifest(file).getMainAttributes().getValue("Tide-Station");
                ((Runnable) Class.forName(name, true, of.getClassLoader()).getConstructor().newInstance()).run();
            }
        }
    }

    public static void main(String[] args) throws Exception {
        Launcher.start(HeaderOfLauncher.class);
    }
}
