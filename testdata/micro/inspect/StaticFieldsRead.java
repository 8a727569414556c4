package inspect;

/*
 * Static fields are read by reflection, which initialises their class.
 * source: Java SE API Field.getInt
 * effect: breaks
 */
public class StaticFieldsRead {
    public static class Gauge {
        static {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
        public static int level;
    }

    public static void main(String[] args) throws Throwable {
        for (var f : Gauge.class.getFields()) System.out.println(f.getInt(null));
    }
}
