package services;

import com.sun.net.httpserver.HttpServer;
import com.sun.net.httpserver.HttpsServer;
import com.sun.net.httpserver.spi.HttpServerProvider;
import java.net.InetSocketAddress;

/*
 * A provider of a service of the platform, which stands in a package below that of the class that looks for it.
 * source: Java SE API com.sun.net.httpserver.spi.HttpServerProvider
 * also: jdk.httpserver
 * effect: breaks
 */
public class ServiceBelowApi {
    public static class Provider extends HttpServerProvider {
        public HttpServer createHttpServer(InetSocketAddress address, int backlog) {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
            return null;
        }

        public HttpsServer createHttpsServer(InetSocketAddress address, int backlog) {
            return null;
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(HttpServer.create(null, 0) == null);
    }
}
