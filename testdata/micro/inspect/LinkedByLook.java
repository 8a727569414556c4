package inspect;

/*
 * A class is linked when its members are listed, and a type that it catches is not there.
 * source: observed
 * effect: breaks
 */
public class LinkedByLook {
    static class Gauge {
        public int level;

        void read() {
            try {
                low();
            } catch (java.sql.SQLException dry) {
                level = 0;
            }
        }

        static void low() throws java.sql.SQLException {
            // Nothing that would fail.
        }
    }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getDeclaredConstructors().length);
    }
}
