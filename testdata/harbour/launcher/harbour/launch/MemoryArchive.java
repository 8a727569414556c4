package harbour.launch;

import java.util.HashMap;
import java.util.Map;

/** The files of one archive of the class path; files for later releases overlay those of the base. */
final class MemoryArchive {
    private static final String VERSIONS = "META-INF/versions/";

    private final Map<String, byte[]> files = new HashMap<>();
    private final Map<String, Integer> release = new HashMap<>();
    private final String name;
    private final boolean multiRelease;

    MemoryArchive(String name, boolean multiRelease) {
        this.name = name;
        this.multiRelease = multiRelease;
    }

    void add(String path, byte[] bytes) {
        int version = 0;
        String plain = path;
        if (multiRelease && path.startsWith(VERSIONS)) {
            int slash = path.indexOf('/', VERSIONS.length());
            version = Integer.parseInt(path.substring(VERSIONS.length(), slash));
            plain = path.substring(slash + 1);
        }
        if (version <= Runtime.version().feature() && version >= release.getOrDefault(plain, 0)) {
            files.put(plain, bytes);
            release.put(plain, version);
        }
    }

    byte[] get(String path) {
        return files.get(path);
    }

    String name() {
        return name;
    }
}
