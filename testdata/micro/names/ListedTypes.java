package names;

/*
 * One text holds the names of several types of the platform.
 * source: observed
 * effect: breaks
 * packed: yes
 */
public class ListedTypes {
    public static void main(String[] args) throws Exception {
        for (String name : "java.util.Date; java.sql.Timestamp".split(";")) {
            System.out.println(Class.forName(name.trim()).getSimpleName());
        }
    }
}
