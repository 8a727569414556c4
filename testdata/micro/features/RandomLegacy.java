package features;

/*
 * A random generator is asked for by the name of one that java.base has.
 * source: JEP 356
 * module: jdk.random
 * effect: fine
 */
class RandomLegacy {
    public static void main(String[] args) {
        System.out.println(java.util.random.RandomGenerator.of("SplittableRandom").nextInt(1));
    }
}
