package features;

/*
 * A type of the stream control protocol is named.
 * source: module jdk.sctp
 * module: jdk.sctp
 * effect: breaks
 */
class StreamControl {
    public static void main(String[] args) {
        System.out.println(com.sun.nio.sctp.AssociationChangeNotification.AssocChangeEvent.values().length);
    }
}
