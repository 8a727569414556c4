package harbour.gauge;

import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import javax.net.ssl.HttpsURLConnection;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;
import javax.net.ssl.TrustManagerFactory;

/** Asks the harbour further out over TLS. Harbours trade certificates on elliptic-curve keys. */
final class Upstream {
    private static final char[] PASSWORD = "not-a-secret".toCharArray();

    private Upstream() {}

    /** Context that presents and trusts the certificate which the archive carries for trials. */
    static SSLContext context() throws IOException, GeneralSecurityException {
        KeyStore store = KeyStore.getInstance("PKCS12");
        try (InputStream in = Upstream.class.getResourceAsStream("/trial.p12")) {
            store.load(in, PASSWORD);
        }
        KeyManagerFactory keys = KeyManagerFactory.getInstance(KeyManagerFactory.getDefaultAlgorithm());
        keys.init(store, PASSWORD);
        TrustManagerFactory trust = TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
        trust.init(store);
        SSLContext context = SSLContext.getInstance("TLS");
        context.init(keys.getKeyManagers(), trust.getTrustManagers(), null);
        return context;
    }

    static String fetch(URI from) throws IOException, GeneralSecurityException {
        HttpsURLConnection connection = (HttpsURLConnection) from.toURL().openConnection();
        connection.setSSLSocketFactory(context().getSocketFactory());
        connection.setConnectTimeout(5_000);
        connection.setReadTimeout(5_000);
        try (InputStream in = connection.getInputStream()) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }
}
