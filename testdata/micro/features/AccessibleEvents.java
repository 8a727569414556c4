package features;

/*
 * A type of the accessibility helpers is named.
 * source: module jdk.accessibility
 * module: jdk.accessibility
 * also: java.desktop
 * effect: breaks
 */
class AccessibleEvents {
    public static void main(String[] args) {
        System.out.println(com.sun.java.accessibility.util.EventQueueMonitor.class.getSimpleName());
    }
}
