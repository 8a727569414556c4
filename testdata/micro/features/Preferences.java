package features;

/*
 * An exception of the preferences is made.
 * source: Java SE API java.util.prefs
 * module: java.prefs
 * effect: breaks
 */
class Preferences {
    public static void main(String[] args) {
        System.out.println(new java.util.prefs.BackingStoreException("no store").getMessage());
    }
}
