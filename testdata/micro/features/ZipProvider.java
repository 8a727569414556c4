package features;

/*
 * The installed file system providers are listed.
 * source: Java SE API FileSystemProvider.installedProviders
 * module: jdk.zipfs
 * effect: degrades
 */
class ZipProvider {
    public static void main(String[] args) {
        System.out.println(java.nio.file.spi.FileSystemProvider.installedProviders().stream()
            .anyMatch(provider -> provider.getScheme().equals("jar")));
    }
}
