package flow;

import java.io.InputStream;
import java.util.Properties;

/**
 * A properties file has the name.
 * case: 6
 * known: exact-among-others
 */
public class Resource {
    public static void main(String[] args) throws Exception {
        Properties gauge = new Properties();
        try (InputStream in = Resource.class.getResourceAsStream("/gauge.properties")) {
            gauge.load(in);
        }
        System.out.println("asks " + Class.forName(gauge.getProperty("driver")).getName());
    }
}
