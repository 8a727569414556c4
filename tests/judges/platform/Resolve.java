import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.lang.module.Configuration;
import java.lang.module.ModuleFinder;
import java.util.Set;
import java.util.stream.Collectors;

/** Reads sets of root modules, one a line; prints for each the modules that they resolve to, sorted. */
class Resolve {
    public static void main(String[] args) throws IOException {
        BufferedReader lines = new BufferedReader(new InputStreamReader(System.in));
        for (String line = lines.readLine(); line != null; line = lines.readLine()) {
            Configuration resolved =
                Configuration.empty().resolve(ModuleFinder.ofSystem(), ModuleFinder.of(), Set.of(line.split(" ")));
            System.out.println(resolved.modules().stream().map(module -> module.name()).sorted().collect(Collectors.joining(" ")));
        }
    }
}
