package names;

/*
 * A name is put together by a format.
 * source: Smaragdakis et al., APLAS 2015
 * effect: breaks
 * category: Reflection: locally resolvable
 */
class Formatted {
    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName(String.format("%s.%s", "java.sql", "Driver")).isInterface());
    }
}
