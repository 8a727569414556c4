package inspect;

/*
 * An enum is asked for a constant by its name, which looks through its public methods.
 * source: Java SE API Enum.valueOf; observed
 * effect: breaks
 */
public class EnumByName {
    public enum Column {
        LEVEL;

        public void write(java.sql.PreparedStatement row) {
        }
    }

    public static void main(String[] args) {
        System.out.println(Column.valueOf("LEVEL").ordinal());
    }
}
