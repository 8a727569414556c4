package services;

/*
 * A library keeps lists of its own in a folder below the service files, and creates whatever they name.
 * source: JAR File Specification, the META-INF directory; Java SE API ClassLoader.getResources
 * effect: breaks
 */
public class OwnList {
    private static final String STORES = "META-INF/services/gauges/stores";

    public interface Store {
        String newest();
    }

    public static class Tides implements Store {
        public String newest() { return new java.sql.Timestamp(0L).toInstant().toString(); }
    }

    private static java.util.List<String> lines(java.util.Enumeration<java.net.URL> files) throws java.io.IOException {
        var lines = new java.util.ArrayList<String>();
        while (files.hasMoreElements()) {
            try (var in = files.nextElement().openStream()) {
                new String(in.readAllBytes(), java.nio.charset.StandardCharsets.UTF_8).lines()
                    .filter(line -> !line.startsWith("#")).forEach(lines::add);
            }
        }
        return lines;
    }

    public static void main(String[] args) throws Exception {
        for (String line : lines(OwnList.class.getClassLoader().getResources(STORES))) {
            Store store = (Store) Class.forName(line).getDeclaredConstructor().newInstance();
            System.out.println(store.newest());
        }
    }
}
