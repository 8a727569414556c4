package names;

import java.io.BufferedReader;
import java.io.InputStreamReader;

/*
 * Code reads the names of classes from a plain file whose path it holds, one a line.
 * source: observed
 * effect: breaks
 * packed: yes
 */
public class PathOfList {
    public static class Gauge implements Runnable {
        public void run() {
            System.out.println("212 cm at " + new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static void main(String[] args) throws Exception {
        try (BufferedReader in = new BufferedReader(
                new InputStreamReader(PathOfList.class.getResourceAsStream("/gauge/gauges.txt")))) {
            for (String line = in.readLine(); line != null; line = in.readLine()) {
                ((Runnable) Class.forName(line.trim()).getDeclaredConstructor().newInstance()).run();
            }
        }
    }
}
