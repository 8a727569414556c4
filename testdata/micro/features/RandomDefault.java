package features;

/*
 * The default random generator is asked for: it moved into java.base with release 23.
 * source: JEP 356, JDK-8330005
 * module: jdk.random
 * effect: breaks on 17, fine on 25
 */
class RandomDefault {
    public static void main(String[] args) {
        System.out.println(java.util.random.RandomGenerator.getDefault().nextInt(1));
    }
}
