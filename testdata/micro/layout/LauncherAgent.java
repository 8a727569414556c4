package layout;

/*
 * The manifest names an agent for the launcher: without the instrumentation module it is passed over in silence.
 * source: Java SE API java.lang.instrument, JDK sources of sun.launcher.LauncherHelper
 * module: java.instrument
 * judge: image
 * effect: degrades
 * packed: yes
 */
class LauncherAgent {
    public static void agentmain(String arguments) { System.out.println("watching"); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
