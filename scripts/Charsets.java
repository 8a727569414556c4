import java.io.PrintStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.TreeSet;

/**
 * Prints the names and aliases of the charsets in jdk.charsets.
 *
 * <pre>
 *   java scripts/Charsets.java names             > NAMES_OF_THIS_JDK    # with each JDK
 *   java scripts/Charsets.java merge 17=A 25=B   > src/needs/charsets.toml
 * </pre>
 *
 * Names are in small letters, since charset names ignore case (Java SE API java.nio.charset.Charset). Which charsets
 * are in java.base instead depends on the system for which a JDK was built; the committed table is of Linux.
 */
class Charsets {
    public static void main(String[] args) throws Exception {
        PrintStream out = new PrintStream(System.out, true, StandardCharsets.UTF_8);
        if (args[0].equals("names")) {
            names().forEach(out::println);
            return;
        }
        List<String> releases = List.of(args).subList(1, args.length);
        TreeSet<String> all = new TreeSet<>(read(releases.get(0)));
        for (String release : releases) {
            all.retainAll(read(release));
        }
        out.println("# Names and aliases of the charsets in jdk.charsets, in small letters; made by scripts/Charsets.java");
        out.println("# from JDKs for Linux. What only one of them has there, the other has in java.base or not at all.");
        out.println();
        print(out, "every", all);
        for (String release : releases) {
            TreeSet<String> own = new TreeSet<>(read(release));
            own.removeAll(all);
            out.println();
            print(out, "only-" + release.substring(0, release.indexOf('=')), own);
        }
    }

    static TreeSet<String> names() {
        TreeSet<String> names = new TreeSet<>();
        for (Charset charset : Charset.availableCharsets().values()) {
            if ("jdk.charsets".equals(charset.getClass().getModule().getName())) {
                names.add(charset.name().toLowerCase(Locale.ROOT));
                charset.aliases().forEach(alias -> names.add(alias.toLowerCase(Locale.ROOT)));
            }
        }
        return names;
    }

    static List<String> read(String release) throws Exception {
        return Files.readAllLines(Path.of(release.substring(release.indexOf('=') + 1)));
    }

    static void print(PrintStream out, String key, TreeSet<String> names) {
        StringBuilder line = new StringBuilder("   ");
        out.println(key + " = [");
        for (String name : names) {
            String quoted = " \"" + name + "\",";
            if (line.length() + quoted.length() > 118) {
                out.println(line);
                line = new StringBuilder("   ");
            }
            line.append(quoted);
        }
        if (!line.toString().isBlank()) {
            out.println(line);
        }
        out.println("]");
    }
}
