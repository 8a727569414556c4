package features;

/*
 * A script engine is asked for that the platform lost with release 15.
 * source: JEP 372
 * module: jdk.scripting.nashorn
 * also: java.scripting
 * effect: fine
 */
class ScriptEngine {
    public static void main(String[] args) {
        System.out.println(new javax.script.ScriptEngineManager().getEngineByName("nashorn"));
    }
}
