import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.lang.reflect.Method;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;

/**
 * Links classes of jars, each in a class loader of its own, and prints which classes the JVM asks that loader for
 * while it does so. Reads names in internal form, one a line; a name behind "? " is only told what it is.
 */
class Linked {
    /** First jar wins. */
    private static final Map<String, JarFile> PLACES = new HashMap<>();
    private static final Map<String, byte[]> READ = new HashMap<>();

    static final class Recorder extends ClassLoader {
        final List<String> asked = new ArrayList<>();

        Recorder() {
            super(ClassLoader.getPlatformClassLoader());
        }

        @Override
        protected synchronized Class<?> loadClass(String name, boolean resolve) throws ClassNotFoundException {
            String internal = name.replace('.', '/');
            asked.add(internal);
            Class<?> known = findLoadedClass(name);
            if (known != null) return known;
            byte[] bytes = bytes(internal);
            return bytes == null ? getParent().loadClass(name) : defineClass(name, bytes, 0, bytes.length);
        }
    }

    public static void main(String[] args) throws Exception {
        for (String path : args) {
            JarFile jar = new JarFile(path);
            for (var entries = jar.entries(); entries.hasMoreElements();) {
                String name = entries.nextElement().getName();
                if (name.endsWith(".class") && !name.startsWith("META-INF/")) {
                    PLACES.putIfAbsent(name.substring(0, name.length() - 6), jar);
                }
            }
        }
        // Looking for the fields of a class links it and does not initialise it. Types of public fields are loaded then.
        Method link = Class.class.getDeclaredMethod("getDeclaredFields0", boolean.class);
        link.setAccessible(true);
        BufferedReader lines = new BufferedReader(new InputStreamReader(System.in));
        StringBuilder out = new StringBuilder();
        for (String line = lines.readLine(); line != null; line = lines.readLine()) {
            if (line.startsWith("? ")) {
                out.append(line).append(' ').append(kind(line.substring(2))).append('\n');
            } else {
                out.append("= ").append(line).append(' ').append(linked(line, link)).append('\n');
            }
        }
        System.out.print(out);
    }

    /** Interface or class, and the superclasses, nearest first. */
    private static String kind(String name) {
        try {
            Class<?> type = Class.forName(name.replace('/', '.'), false, ClassLoader.getPlatformClassLoader());
            StringBuilder kind = new StringBuilder(type.isInterface() ? "interface" : "class");
            for (Class<?> above = type.getSuperclass(); above != null; above = above.getSuperclass()) {
                kind.append(' ').append(above.getName().replace('.', '/'));
            }
            return kind.toString();
        } catch (ClassNotFoundException | LinkageError error) {
            return "absent";
        }
    }

    /** How it went, and the names asked for while linking. */
    private static String linked(String name, Method link) throws IllegalAccessException {
        Recorder loader = new Recorder();
        Class<?> type;
        try {
            type = Class.forName(name.replace('/', '.'), false, loader);
        } catch (ClassNotFoundException | LinkageError error) {
            return "unloadable";
        }
        loader.asked.clear();
        String how = "linked";
        try {
            link.invoke(type, true);
        } catch (java.lang.reflect.InvocationTargetException error) {
            how = error.getCause().getClass().getSimpleName();
        }
        return how + " " + String.join(" ", loader.asked);
    }

    private static byte[] bytes(String internal) {
        return READ.computeIfAbsent(internal, name -> {
            JarFile jar = PLACES.get(name);
            if (jar == null) return null;
            try (InputStream in = jar.getInputStream(new JarEntry(name + ".class"))) {
                return in.readAllBytes();
            } catch (IOException error) {
                throw new java.io.UncheckedIOException(error);
            }
        });
    }
}
