package features;

/*
 * A type for embedding of user interfaces is named.
 * source: module jdk.unsupported.desktop
 * module: jdk.unsupported.desktop
 * also: java.desktop
 * effect: breaks
 */
class SwingInterop {
    public static void main(String[] args) {
        System.out.println(jdk.swing.interop.LightweightContentWrapper.class.getSimpleName());
    }
}
