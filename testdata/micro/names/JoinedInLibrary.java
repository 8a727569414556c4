package names;

/*
 * A library joins the parts of a name.
 * source: Java SE API String.join
 * effect: breaks
 * library: Maker
 */
public class JoinedInLibrary {
    public static class Gauge {
        public Gauge() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    public static class Maker {
        static Object make(String end) throws Exception {
            return Class.forName(String.join(".", "names", end)).getConstructor().newInstance();
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Maker.make("JoinedInLibrary$Gauge"));
    }
}
