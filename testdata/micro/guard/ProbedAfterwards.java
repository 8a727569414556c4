package guard;

/*
 * A method finds out whether the module is there, after it has used it.
 * source: JVMS §5.4.3.1
 * module: java.prefs
 * effect: breaks
 */
class ProbedAfterwards {
    public static void main(String[] args) {
        System.out.println(java.util.prefs.Preferences.userRoot().name());
        System.out.println(isThere());
    }

    static boolean isThere() {
        try {
            Class.forName("java.util.prefs.BackingStoreException");
            return true;
        } catch (ClassNotFoundException absent) {
            return false;
        }
    }
}
