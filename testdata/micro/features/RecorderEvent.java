package features;

/*
 * An own event extends the flight recorder's class.
 * source: module jdk.jfr
 * module: jdk.jfr
 * effect: breaks
 */
class RecorderEvent {
    static class Tide extends jdk.jfr.Event { }

    public static void main(String[] args) {
        new Tide().commit();
        System.out.println("level 212 cm");
    }
}
