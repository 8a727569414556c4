package names;

/*
 * Classes are looked up by the names of their files.
 * source: Java SE API Class.forName
 * effect: breaks
 */
public class Scanned {
    public static class Gauge {
        public Gauge() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static void main(String[] args) throws Exception {
        var root = java.nio.file.Path.of(Scanned.class.getProtectionDomain().getCodeSource().getLocation().toURI());
        try (var files = java.nio.file.Files.walk(root)) {
            for (var file : files.toList()) {
                String name = root.relativize(file).toString().replace('/', '.');
                if (name.endsWith("Gauge.class")) System.out.println(Class.forName(name.substring(0,
                    name.length() - 6)).getConstructor().newInstance());
            }
        }
    }
}
