package launch;

/*
 * A flight recording is asked for at launch.
 * source: JEP 328, java manual page
 * module: jdk.jfr
 * judge: image
 * told: launch
 * options: -XX:StartFlightRecording=settings=none
 * effect: breaks
 */
class Recording {
    public static void main(String[] args) {
        System.out.println("level 212 cm");
        Runtime.getRuntime().halt(0);
    }
}
