package features;

/*
 * An exception of class redefinition is made.
 * source: Java SE API java.lang.instrument
 * module: java.instrument
 * effect: breaks
 */
class Instrumentation {
    public static void main(String[] args) {
        System.out.println(new java.lang.instrument.UnmodifiableClassException("sluice").getMessage());
    }
}
