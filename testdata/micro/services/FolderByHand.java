package services;

import java.io.BufferedReader;
import java.io.InputStreamReader;

/*
 * A library has a folder of its own for files that are called after an interface, with lines of key and class.
 * source: common practice, no source
 * effect: breaks
 * packed: yes
 */
public class FolderByHand {
    public interface Reader {
        String read();
    }

    public static class Timed implements Reader {
        public String read() {
            return "212 cm at " + new java.sql.Timestamp(0L).getNanos();
        }
    }

    static Object first(Class<?> type) throws Exception {
        try (BufferedReader in = new BufferedReader(new InputStreamReader(
                FolderByHand.class.getResourceAsStream("/META-INF/tide/" + type.getName())))) {
            return Class.forName(in.readLine().split("=")[1].trim()).getDeclaredConstructor().newInstance();
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(((Reader) first(Reader.class)).read());
    }
}
