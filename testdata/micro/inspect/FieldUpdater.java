package inspect;

/*
 * An updater of a field looks through all fields of the class.
 * source: Java SE API AtomicIntegerFieldUpdater.newUpdater; observed
 * effect: breaks
 */
public class FieldUpdater {
    public static class Gauge {
        static final java.util.concurrent.atomic.AtomicIntegerFieldUpdater<Gauge> LEVEL =
                java.util.concurrent.atomic.AtomicIntegerFieldUpdater.newUpdater(Gauge.class, "level");
        volatile int level;
        java.sql.Connection store;
    }

    public static void main(String[] args) {
        System.out.println(Gauge.LEVEL.incrementAndGet(new Gauge()));
    }
}
