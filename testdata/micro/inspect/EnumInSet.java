package inspect;

/*
 * A set of an enum looks for its constants among its public methods.
 * source: Java SE API EnumSet.allOf; observed
 * effect: breaks
 */
public class EnumInSet {
    public enum Column {
        LEVEL;

        public void write(java.sql.PreparedStatement row) {
        }
    }

    public static void main(String[] args) {
        System.out.println(java.util.EnumSet.of(Column.LEVEL).size());
    }
}
