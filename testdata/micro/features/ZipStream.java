package features;

/*
 * A zip file is written and read as a stream, for which java.base is enough.
 * source: Java SE API java.util.zip
 * module: jdk.zipfs
 * effect: fine
 */
class ZipStream {
    public static void main(String[] args) throws Exception {
        var bytes = new java.io.ByteArrayOutputStream();
        try (var out = new java.util.zip.ZipOutputStream(bytes)) {
            out.putNextEntry(new java.util.zip.ZipEntry("levels.csv"));
        }
        var in = new java.util.zip.ZipInputStream(new java.io.ByteArrayInputStream(bytes.toByteArray()));
        System.out.println(in.getNextEntry().getName());
    }
}
