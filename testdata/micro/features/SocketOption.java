package features;

/*
 * An extended socket option is named.
 * source: module jdk.net
 * module: jdk.net
 * effect: breaks
 */
class SocketOption {
    public static void main(String[] args) {
        System.out.println(jdk.net.ExtendedSocketOptions.TCP_KEEPIDLE.name());
    }
}
