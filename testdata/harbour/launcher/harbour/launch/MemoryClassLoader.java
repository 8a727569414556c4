package harbour.launch;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.URL;
import java.net.URLConnection;
import java.net.URLStreamHandler;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Enumeration;
import java.util.List;

/** Defines classes from archives in memory, in the order of the class path. */
final class MemoryClassLoader extends ClassLoader {
    private final List<MemoryArchive> classPath;

    MemoryClassLoader(List<MemoryArchive> classPath, ClassLoader parent) {
        super("harbour", parent);
        this.classPath = List.copyOf(classPath);
    }

    @Override
    protected Class<?> findClass(String name) throws ClassNotFoundException {
        String path = name.replace('.', '/') + ".class";
        for (MemoryArchive archive : classPath) {
            byte[] bytes = archive.get(path);
            if (bytes != null) {
                return defineClass(name, bytes, 0, bytes.length);
            }
        }
        throw new ClassNotFoundException(name);
    }

    @Override
    protected URL findResource(String path) {
        List<URL> found = urls(path);
        return found.isEmpty() ? null : found.get(0);
    }

    @Override
    protected Enumeration<URL> findResources(String path) {
        return Collections.enumeration(urls(path));
    }

    private List<URL> urls(String path) {
        List<URL> found = new ArrayList<>();
        for (MemoryArchive archive : classPath) {
            byte[] bytes = archive.get(path);
            if (bytes != null) {
                found.add(url(archive.name() + "!/" + path, bytes));
            }
        }
        return found;
    }

    private static URL url(String path, byte[] bytes) {
        try {
            return new URL("memory", "", -1, "/" + path, new URLStreamHandler() {
                @Override
                protected URLConnection openConnection(URL url) {
                    return new MemoryConnection(url, bytes);
                }
            });
        } catch (IOException impossible) {
            throw new IllegalStateException(impossible);
        }
    }

    private static final class MemoryConnection extends URLConnection {
        private final byte[] bytes;

        MemoryConnection(URL url, byte[] bytes) {
            super(url);
            this.bytes = bytes;
        }

        @Override
        public void connect() {}

        @Override
        public InputStream getInputStream() {
            return new ByteArrayInputStream(bytes);
        }
    }
}
