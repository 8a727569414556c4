package features;

/*
 * A socket's options are searched for one that only an extension has.
 * source: module jdk.net
 * module: jdk.net
 * effect: degrades
 */
class SocketOptionNames {
    public static void main(String[] args) throws Exception {
        try (var socket = new java.net.Socket()) {
            System.out.println(socket.supportedOptions().stream()
                .anyMatch(option -> option.name().equals("TCP_KEEPIDLE")));
        }
    }
}
