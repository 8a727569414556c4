package names;

/*
 * A name is given on the command line.
 * source: Reif et al., ISSTA 2019, context-sensitive reflection
 * effect: breaks
 * category: Reflection: context-sensitive
 * arguments: java.sql.Driver
 * told: nowhere
 */
class Argument {
    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName(args[0]).isInterface());
    }
}
