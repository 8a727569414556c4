/** A program that asks for java.base alone: says that it runs, and waits to be looked at. */
public class Gauge {
    public static void main(String[] words) throws Exception {
        System.out.println("ready " + ProcessHandle.current().pid());
        // Nobody waits for as long; a test that is broken off leaves nothing behind for ever.
        Thread.sleep(words.length > 0 ? 0 : 600_000);
    }
}
