package features;

/*
 * A signal's number is asked for.
 * source: module jdk.unsupported, JEP 260
 * module: jdk.unsupported
 * effect: breaks
 */
class Signal {
    public static void main(String[] args) {
        System.out.println(new sun.misc.Signal("TERM").getNumber());
    }
}
