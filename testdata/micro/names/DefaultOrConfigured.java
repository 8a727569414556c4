package names;

import java.io.InputStream;

/*
 * The name of a class comes from a file, or is a constant where there is none.
 * source: Java SE API Class.forName
 * effect: breaks
 * packed: yes
 */
public class DefaultOrConfigured {
    public static class Gauge implements Runnable {
        public void run() {
            System.out.println("212 cm at " + new java.sql.Timestamp(0L).getNanos());
        }
    }

    static void start(String name) throws Exception {
        ((Runnable) Class.forName(name).getDeclaredConstructor().newInstance()).run();
    }

    public static void main(String[] args) throws Exception {
        InputStream configured = DefaultOrConfigured.class.getResourceAsStream("/gauges.conf");
        if (configured == null) {
            start("names.NoGauge");
        } else {
            start(new String(configured.readAllBytes()).trim());
        }
    }
}
