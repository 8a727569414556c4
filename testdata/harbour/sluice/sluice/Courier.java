package sluice;

import java.io.IOException;
import java.io.OutputStream;
import java.net.HttpURLConnection;
import java.net.URI;

/** Carries a notice to another harbour. The copy for release 21 and later uses the newer HTTP client. */
public final class Courier {
    private Courier() {}

    /** Posts the text and returns the HTTP status. */
    public static int post(URI to, String text) throws IOException {
        HttpURLConnection connection = (HttpURLConnection) to.toURL().openConnection();
        connection.setConnectTimeout(5_000);
        connection.setReadTimeout(5_000);
        connection.setRequestMethod("POST");
        connection.setDoOutput(true);
        try (OutputStream out = connection.getOutputStream()) {
            out.write(text.getBytes("UTF-8"));
        }
        return connection.getResponseCode();
    }

    /** Which of the two copies the class loader chose. */
    public static String means() {
        return "java.net.HttpURLConnection";
    }
}
