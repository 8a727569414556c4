package inspect;

/*
 * A permitted subclass rests on a missing interface: it vanishes from the answer in silence.
 * source: JEP 409, Java SE API Class.getPermittedSubclasses
 * effect: degrades
 */
class PermittedSubclasses {
    sealed interface Gauge permits Float_, Stored { }
    static final class Float_ implements Gauge { }
    static abstract non-sealed class Stored implements Gauge, java.sql.Wrapper { }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getPermittedSubclasses().length);
    }
}
