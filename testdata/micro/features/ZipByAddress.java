package features;

/*
 * A zip file is made as a file system by a jar: address.
 * source: Java SE API FileSystems.newFileSystem, module jdk.zipfs
 * module: jdk.zipfs
 * effect: breaks
 */
class ZipByAddress {
    public static void main(String[] args) throws Exception {
        var folder = java.nio.file.Files.createTempDirectory("gauges");
        var address = java.net.URI.create("jar:" + folder.resolve("levels.zip").toUri());
        try (var files = java.nio.file.FileSystems.newFileSystem(address, java.util.Map.of("create", "true"))) {
            System.out.println(files.provider().getScheme());
        }
    }
}
