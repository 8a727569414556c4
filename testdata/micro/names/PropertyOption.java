package names;

/*
 * A name is given by an option at launch.
 * source: Java SE API System.getProperty
 * effect: breaks
 * category: Reflection: context-sensitive
 * options: -Dgauges.driver=java.sql.Driver
 * told: nowhere
 */
class PropertyOption {
    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName(System.getProperty("gauges.driver")).isInterface());
    }
}
