package names;

/*
 * Beginning and end of a name are known, the middle comes from the command line.
 * source: Smaragdakis et al., APLAS 2015
 * effect: breaks
 * category: Reflection: locally resolvable
 * arguments: Driver
 */
class UnknownMiddle {
    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName("java.sql." + args[0] + "Manager").getSimpleName());
    }
}
