package features;

/*
 * A random generator is asked for by name.
 * source: JEP 356, JDK-8330005
 * module: jdk.random
 * effect: breaks on 17, fine on 25
 */
class RandomNamed {
    public static void main(String[] args) {
        System.out.println(java.util.random.RandomGenerator.of("Xoshiro256PlusPlus").nextInt(1));
    }
}
