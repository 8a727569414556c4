package names;

/*
 * A class is looked up whose name is that of another one and an end.
 * source: Smaragdakis et al., APLAS 2015
 * effect: breaks
 * category: Reflection: context-sensitive
 */
class Companion {
    static class CompanionTide {}

    static class CompanionTideRecorder implements Runnable {
        public void run() { System.out.println(new java.sql.Timestamp(0L).getNanos()); }
    }

    static Runnable of(Object level) throws Exception {
        Class<?> found = Class.forName(level.getClass().getName() + "Recorder");
        return (Runnable) found.getDeclaredConstructor().newInstance();
    }

    public static void main(String[] args) throws Exception {
        of(new CompanionTide()).run();
    }
}
