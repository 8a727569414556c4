package sluice;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;

/** Carries a notice to another harbour; the copy for release 21 and later. */
public final class Courier {
    private Courier() {}

    /** Posts the text and returns the HTTP status. */
    public static int post(URI to, String text) throws IOException {
        HttpRequest request = HttpRequest.newBuilder(to).timeout(Duration.ofSeconds(5))
                .POST(HttpRequest.BodyPublishers.ofString(text)).build();
        try {
            return HttpClient.newHttpClient().send(request, HttpResponse.BodyHandlers.discarding()).statusCode();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException("interrupted", e);
        }
    }

    /** Which of the two copies the class loader chose. */
    public static String means() {
        return "java.net.http.HttpClient";
    }
}
