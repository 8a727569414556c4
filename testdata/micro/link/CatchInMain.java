package link;

/*
 * The main class catches a missing exception type around code that throws nothing.
 * source: JVMS §4.10.1.4
 * effect: breaks
 */
class CatchInMain {
    private static void open() throws java.sql.SQLException { }

    public static void main(String[] args) {
        try {
            open();
        } catch (java.sql.SQLException error) {
            System.out.println("closed");
        }
        System.out.println("level 212 cm");
    }
}
