package sluice;

/** Decides how far a gate opens; a script engine may replace the built-in rule where the runtime has one. */
public final class GateRule {
    private GateRule() {}

    /** Opening in per cent for a level in metres above chart datum. */
    public static int opening(double level) {
        return (int) Math.max(0, Math.min(100, Math.round((level - 1.0) * 40)));
    }

    /** Whether rules could be scripted here. Does well without: the look-up is guarded. */
    public static boolean scriptable() {
        try {
            Class.forName("javax.script.ScriptEngineManager");
            return true;
        } catch (ClassNotFoundException absent) {
            return false;
        }
    }
}
