package features;

/*
 * An extended socket option is taken by the name of its class, as drivers do.
 * source: module jdk.net
 * module: jdk.net
 * effect: guarded
 */
class SocketOptionByName {
    public static void main(String[] args) throws Exception {
        try {
            Class<?> options = Class.forName("jdk.net.ExtendedSocketOptions");
            System.out.println(options.getField("TCP_KEEPIDLE").get(null));
        } catch (ClassNotFoundException missing) {
            System.out.println("without: keep-alive times");
        }
    }
}
