package names;

/*
 * A name is put together by concatenation with a value that is not constant.
 * source: JEP 280; Smaragdakis et al., APLAS 2015
 * effect: breaks
 * category: Reflection: locally resolvable
 */
class Concatenated {
    public static void main(String[] args) throws Exception {
        String kind = args.length == 0 ? "Driver" : args[0];
        System.out.println(Class.forName("java.sql." + kind).isInterface());
    }
}
