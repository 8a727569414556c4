package names;

import java.util.HashMap;
import java.util.Map;

/*
 * A library keeps the name of a class among its settings, as the class itself gives it.
 * source: Java SE API Class.getName, Class.forName
 * effect: breaks
 * library: Settings Tide
 * packed: yes
 */
public class NameOfLiteral {
    public static class Tide implements Runnable {
        public void run() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static class Settings {
        static final Map<String, Object> ALL = new HashMap<>();

        static {
            ALL.put("gauge", Tide.class.getName());
        }

        static Runnable gauge(String key) throws Exception {
            return (Runnable) Class.forName((String) ALL.get(key)).getDeclaredConstructor().newInstance();
        }
    }

    public static void main(String[] args) throws Exception {
        Settings.gauge("gauge").run();
    }
}
