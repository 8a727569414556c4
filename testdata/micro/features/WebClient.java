package features;

/*
 * A web client is made.
 * source: JEP 321
 * module: java.net.http
 * effect: breaks
 */
class WebClient {
    public static void main(String[] args) {
        System.out.println(java.net.http.HttpClient.newHttpClient().followRedirects());
    }
}
