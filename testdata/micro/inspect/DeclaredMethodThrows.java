package inspect;

/*
 * One method is looked up by name; another one declares a missing exception type.
 * source: Java SE API Class.getDeclaredMethod, JVMS §4.7.5
 * effect: breaks
 */
class DeclaredMethodThrows {
    static class Gauge {
        void store() throws java.sql.SQLException { }
        void read() { }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Gauge.class.getDeclaredMethod("read").getName());
    }
}
