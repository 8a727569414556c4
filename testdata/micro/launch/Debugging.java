package launch;

/*
 * Debugging is asked for at launch.
 * source: JPDA Connection and Invocation Details
 * module: jdk.jdwp.agent
 * judge: image
 * told: launch
 * options: -agentlib:jdwp=transport=dt_socket,server=y,suspend=n,quiet=y,address=127.0.0.1:0
 * effect: breaks
 */
class Debugging {
    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
