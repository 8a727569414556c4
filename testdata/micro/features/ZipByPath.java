package features;

/*
 * A zip file is opened as a file system by its path.
 * source: Java SE API FileSystems.newFileSystem, module jdk.zipfs
 * module: jdk.zipfs
 * effect: breaks
 */
class ZipByPath {
    public static void main(String[] args) throws Exception {
        var zip = java.nio.file.Files.createTempFile("gauges", ".zip");
        try (var out = new java.util.zip.ZipOutputStream(java.nio.file.Files.newOutputStream(zip))) {
            out.putNextEntry(new java.util.zip.ZipEntry("levels.csv"));
        }
        try (var files = java.nio.file.FileSystems.newFileSystem(zip)) {
            System.out.println(files.provider().getScheme());
        } finally {
            java.nio.file.Files.delete(zip);
        }
    }
}
