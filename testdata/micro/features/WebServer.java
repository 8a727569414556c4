package features;

/*
 * A small web server is made.
 * source: module jdk.httpserver
 * module: jdk.httpserver
 * effect: breaks
 */
class WebServer {
    public static void main(String[] args) throws Exception {
        System.out.println(com.sun.net.httpserver.HttpServer.create().getAddress());
    }
}
