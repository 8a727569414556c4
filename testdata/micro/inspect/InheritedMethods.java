package inspect;

/*
 * All public methods are listed, among them those of the superclass.
 * source: Java SE API Class.getMethods
 * effect: breaks
 */
class InheritedMethods {
    static class Base {
        public java.sql.Connection store() {
            return null;
        }
    }

    static class Gauge extends Base { }

    public static void main(String[] args) {
        System.out.println(Gauge.class.getMethods().length > 5);
    }
}
