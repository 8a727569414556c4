package services;

import java.io.BufferedReader;
import java.io.InputStreamReader;

/*
 * Code reads a service file by itself: the folder is a text, the name comes of the class of the service.
 * source: common practice, no source
 * effect: breaks
 * packed: yes
 */
public class ReadByHand {
    public interface Reader {
        String read();
    }

    public static class Timed implements Reader {
        public String read() {
            return "212 cm at " + new java.sql.Timestamp(0L).getNanos();
        }
    }

    static Object first(String service) throws Exception {
        try (BufferedReader in = new BufferedReader(new InputStreamReader(
                ReadByHand.class.getClassLoader().getResourceAsStream("META-INF/services/" + service)))) {
            return Class.forName(in.readLine().trim()).getDeclaredConstructor().newInstance();
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(((Reader) first(Reader.class.getName())).read());
    }
}
