package features;

/*
 * A web client's TLS offers fewer cipher suites without elliptic curves.
 * source: JEP 321, JDK-8308398
 * module: jdk.crypto.ec
 * also: java.net.http
 * effect: degrades on 17, fine on 25
 */
class WebClientCurves {
    public static void main(String[] args) {
        var client = java.net.http.HttpClient.newHttpClient();
        System.out.println(client.sslContext().getSupportedSSLParameters().getCipherSuites().length);
    }
}
