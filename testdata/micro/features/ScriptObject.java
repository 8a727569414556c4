package features;

/*
 * A type of the bridge to web pages' scripts is named.
 * source: module jdk.jsobject
 * module: jdk.jsobject
 * effect: breaks
 */
class ScriptObject {
    public static void main(String[] args) {
        System.out.println(new netscape.javascript.JSException("no page").getMessage());
    }
}
