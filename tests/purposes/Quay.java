import java.io.FileInputStream;
import java.io.InputStream;
import java.security.KeyStore;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLServerSocket;
import javax.net.ssl.SSLSocket;
import javax.net.ssl.TrustManagerFactory;

/** A handshake of the program with itself, by the key and certificate of a key store. */
public class Quay {
    public static void main(String[] words) throws Exception {
        char[] password = "changeit".toCharArray();
        KeyStore store = KeyStore.getInstance("PKCS12");
        try (InputStream in = new FileInputStream(words[0])) {
            store.load(in, password);
        }
        KeyManagerFactory keys = KeyManagerFactory.getInstance(KeyManagerFactory.getDefaultAlgorithm());
        keys.init(store, password);
        TrustManagerFactory trust = TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
        trust.init(store);
        SSLContext context = SSLContext.getInstance("TLS");
        context.init(keys.getKeyManagers(), trust.getTrustManagers(), null);
        SSLServerSocket server = (SSLServerSocket) context.getServerSocketFactory().createServerSocket(0);
        Thread answering = new Thread(() -> {
            try (SSLSocket peer = (SSLSocket) server.accept()) {
                peer.getOutputStream().write(42);
                peer.getOutputStream().flush();
            } catch (java.io.IOException problem) {
                System.out.println("server: " + problem);
            }
        });
        answering.start();
        try (SSLSocket peer = (SSLSocket) context.getSocketFactory().createSocket("localhost", server.getLocalPort())) {
            peer.setSoTimeout(60_000);
            int answer = peer.getInputStream().read();
            System.out.println(answer + " " + peer.getSession().getPeerCertificates()[0].getPublicKey().getAlgorithm());
        }
        answering.join();
    }
}
