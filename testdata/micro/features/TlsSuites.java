package features;

/*
 * A TLS context offers fewer cipher suites without elliptic curves.
 * source: JDK-8308398, observed
 * module: jdk.crypto.ec
 * effect: degrades on 17, fine on 25
 */
class TlsSuites {
    public static void main(String[] args) throws Exception {
        var context = javax.net.ssl.SSLContext.getDefault();
        System.out.println(context.getDefaultSSLParameters().getCipherSuites().length);
    }
}
