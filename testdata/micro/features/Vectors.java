package features;

/*
 * A type of an incubator module is named, and the module is added at launch.
 * source: JEP 338, JEP 11
 * module: jdk.incubator.vector
 * options: --add-modules jdk.incubator.vector
 * judge: image
 * effect: breaks
 */
class Vectors {
    public static void main(String[] args) {
        System.out.println(jdk.incubator.vector.VectorShape.values().length > 0);
    }
}
