package load;

/*
 * The class that is started inherits its main method.
 * source: JLS section 8.4.8, section 12.1.4
 * effect: breaks
 * packed: yes
 */
public class MainAbove extends MainAboveBase {
}

class MainAboveBase {
    public static void main(String[] args) {
        System.out.println("low water at " + new java.sql.Timestamp(0L).getNanos());
    }
}
