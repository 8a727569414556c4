package harbour.launch;

import java.io.ByteArrayInputStream;
import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.BufferedReader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.jar.JarFile;
import java.util.jar.JarInputStream;
import java.util.jar.Manifest;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;

/**
 * Main-Class of the executable archive: puts the service's classes and the nested jars that the class-path index lists
 * on a class path held in memory, then hands over to the class that the manifest calls Start-Class.
 */
public final class Launch {
    private Launch() {}

    public static void main(String[] args) throws Exception {
        File self = new File(Launch.class.getProtectionDomain().getCodeSource().getLocation().toURI());
        String start;
        List<MemoryArchive> classPath = new ArrayList<>();
        try (JarFile outer = new JarFile(self)) {
            start = header(outer.getManifest(), "Start-Class");
            classPath.add(ownClasses(outer, header(outer.getManifest(), "Spring-Boot-Classes")));
            for (String nested : index(outer, header(outer.getManifest(), "Spring-Boot-Classpath-Index"))) {
                classPath.add(nestedJar(outer, nested));
            }
        }
        MemoryClassLoader loader = new MemoryClassLoader(classPath, Launch.class.getClassLoader());
        Thread.currentThread().setContextClassLoader(loader);
        loader.loadClass(start).getMethod("main", String[].class).invoke(null, (Object) args);
    }

    private static String header(Manifest manifest, String name) throws IOException {
        String value = manifest.getMainAttributes().getValue(name);
        if (value == null) {
            throw new IOException("the manifest has no " + name);
        }
        return value;
    }

    private static MemoryArchive ownClasses(JarFile outer, String prefix) throws IOException {
        MemoryArchive archive = new MemoryArchive(prefix, false);
        for (ZipEntry entry : (Iterable<ZipEntry>) outer.stream().map(e -> (ZipEntry) e)::iterator) {
            if (entry.getName().startsWith(prefix) && !entry.isDirectory()) {
                try (InputStream in = outer.getInputStream(entry)) {
                    archive.add(entry.getName().substring(prefix.length()), in.readAllBytes());
                }
            }
        }
        return archive;
    }

    private static MemoryArchive nestedJar(JarFile outer, String name) throws IOException {
        byte[] bytes;
        try (InputStream in = outer.getInputStream(outer.getEntry(name))) {
            bytes = in.readAllBytes();
        }
        boolean multiRelease;
        try (JarInputStream in = new JarInputStream(new ByteArrayInputStream(bytes))) {
            multiRelease = in.getManifest() != null
                    && Boolean.parseBoolean(in.getManifest().getMainAttributes().getValue("Multi-Release"));
        }
        MemoryArchive archive = new MemoryArchive(name, multiRelease);
        try (ZipInputStream in = new ZipInputStream(new ByteArrayInputStream(bytes))) {
            for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
                if (!entry.isDirectory()) {
                    archive.add(entry.getName(), in.readAllBytes());
                }
            }
        }
        return archive;
    }

    /** The index is a list of lines of the form {@code - "path/in/the/archive.jar"}. */
    private static List<String> index(JarFile outer, String name) throws IOException {
        List<String> paths = new ArrayList<>();
        try (BufferedReader lines = new BufferedReader(
                new InputStreamReader(outer.getInputStream(outer.getEntry(name)), StandardCharsets.UTF_8))) {
            for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                int open = line.indexOf('"');
                int close = line.lastIndexOf('"');
                if (open >= 0 && close > open) {
                    paths.add(line.substring(open + 1, close));
                }
            }
        }
        return paths;
    }
}
