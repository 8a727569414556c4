package names;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;

/*
 * Code reads the name of a class from a file of its own, in JSON.
 * source: observed
 * effect: breaks
 * packed: yes
 */
public class JsonWiring {
    public static class Gauge implements Runnable {
        public void run() {
            System.out.println("212 cm at " + new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static void main(String[] args) throws Exception {
        try (InputStream in = JsonWiring.class.getResourceAsStream("/gauge/wiring.json")) {
            String text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            String name = text.split("\"")[3];
            ((Runnable) Class.forName(name).getDeclaredConstructor().newInstance()).run();
        }
    }
}
