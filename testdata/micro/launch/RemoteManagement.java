package launch;

/*
 * Remote management is asked for at launch.
 * source: Java SE Monitoring and Management Guide
 * module: jdk.management.agent
 * judge: image
 * told: launch
 * options: -Dcom.sun.management.jmxremote
 * effect: breaks
 */
class RemoteManagement {
    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
