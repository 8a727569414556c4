package names;

/*
 * A library reads the name of a class from a file of its own format.
 * source: Java SE API Class.getResourceAsStream
 * effect: breaks
 * library: Kit
 * packed: yes
 */
public class IndexOfOtherEnding {
    public static class Tide {
        public Tide() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static class Kit {
        static Object make() throws Exception {
            try (var file = Kit.class.getResourceAsStream("/kit/readers.idx")) {
                String name = new String(file.readAllBytes(), java.nio.charset.StandardCharsets.UTF_8).strip();
                return Class.forName(name).getConstructor().newInstance();
            }
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Kit.make() != null);
    }
}
