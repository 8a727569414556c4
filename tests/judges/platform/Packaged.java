import java.io.File;
import java.util.Arrays;
import java.util.spi.ToolProvider;

/** Prints what `jmod list` says of each packaged module in a folder, in one process. */
class Packaged {
    public static void main(String[] args) {
        ToolProvider jmod = ToolProvider.findFirst("jmod").orElseThrow();
        File[] files = new File(args[0]).listFiles((folder, name) -> name.endsWith(".jmod"));
        Arrays.sort(files);
        for (File file : files) {
            System.out.println("Module: " + file.getName().replace(".jmod", ""));
            int status = jmod.run(System.out, System.err, "list", file.getPath());
            if (status != 0) {
                System.exit(status);
            }
        }
    }
}
