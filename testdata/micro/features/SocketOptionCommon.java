package features;

/*
 * A socket option is set that java.base has.
 * source: Java SE API java.net.StandardSocketOptions
 * module: jdk.net
 * effect: fine
 */
class SocketOptionCommon {
    public static void main(String[] args) throws Exception {
        try (var socket = new java.net.Socket()) {
            socket.setOption(java.net.StandardSocketOptions.SO_KEEPALIVE, true);
            System.out.println(socket.getKeepAlive());
        }
    }
}
