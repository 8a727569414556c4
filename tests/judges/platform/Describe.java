import java.lang.module.ModuleDescriptor;
import java.lang.module.ModuleDescriptor.Requires;
import java.lang.module.ModuleFinder;
import java.util.Collection;
import java.util.stream.Collectors;

/** Prints every module of the running JDK, one fact a line; the reader sorts. */
class Describe {
    public static void main(String[] args) {
        ModuleFinder.ofSystem().findAll().forEach(reference -> describe(reference.descriptor()));
    }

    static void describe(ModuleDescriptor module) {
        String name = module.name();
        line("module", name, String.valueOf(module.isOpen()));
        for (Requires requires : module.requires()) {
            line("requires", name, requires.name(), String.valueOf(requires.modifiers().contains(Requires.Modifier.TRANSITIVE)),
                String.valueOf(requires.modifiers().contains(Requires.Modifier.STATIC)),
                String.valueOf(requires.modifiers().contains(Requires.Modifier.MANDATED)));
        }
        module.exports().forEach(e -> line("exports", name, e.source(), sorted(e.targets())));
        module.opens().forEach(o -> line("opens", name, o.source(), sorted(o.targets())));
        module.uses().forEach(service -> line("uses", name, service));
        module.provides().forEach(p -> line("provides", name, p.service(), String.join(",", p.providers())));
        module.packages().forEach(pack -> line("package", name, pack));
    }

    static String sorted(Collection<String> names) {
        return names.stream().sorted().collect(Collectors.joining(","));
    }

    static void line(String... fields) {
        System.out.println(String.join(" ", fields));
    }
}
