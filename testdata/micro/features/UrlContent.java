package features;

/*
 * The content of an address of an image is asked for: without a handler it is a plain stream.
 * source: Java SE API java.net.ContentHandlerFactory
 * module: java.desktop
 * effect: degrades
 */
class UrlContent {
    public static void main(String[] args) throws Exception {
        Object content = UrlContent.class.getResource("/gauge.gif").getContent();
        System.out.println(content instanceof java.io.InputStream ? "stream" : "image");
    }
}
