import java.lang.instrument.Instrumentation;

/** An agent, at launch or later, that has the JVM show it the class of the program. */
public class Agent {
    public static void premain(String words, Instrumentation instrumentation) {
        System.out.println("agent at launch: " + (instrumentation.getAllLoadedClasses().length > 0));
    }

    public static void agentmain(String words, Instrumentation instrumentation) {
        for (Class<?> loaded : instrumentation.getAllLoadedClasses()) {
            if (loaded.getName().equals("Gauge")) System.out.println("agent later: true");
        }
    }
}
