package launch;

/*
 * The library for agents written in Java is asked for at launch.
 * source: Java SE API java.lang.instrument
 * module: java.instrument
 * judge: image
 * told: launch
 * options: -javaagent:app.jar
 * packed: yes
 * effect: breaks
 */
class Agent {
    public static void premain(String arguments) { System.out.println("watching"); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
