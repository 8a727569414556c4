package guard;

/*
 * One class of a library finds out whether the module is there; another, which does not ask it, does without the answer.
 * source: JVMS §5.4.3.1
 * module: java.prefs
 * effect: breaks
 */
class ProbedBesides {
    public static void main(String[] args) {
        System.out.println(Gauge.level());
        if (args.length > 0) {
            System.out.println(Probe.isThere());
        }
    }

    static class Gauge {
        static String level() {
            return java.util.prefs.Preferences.userRoot().name();
        }
    }

    static class Probe {
        static boolean isThere() {
            try {
                Class.forName("java.util.prefs.BackingStoreException");
                return true;
            } catch (ClassNotFoundException absent) {
                return false;
            }
        }
    }
}
