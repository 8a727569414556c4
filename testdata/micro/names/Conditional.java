package names;

/*
 * One of two names is looked up, by the time of day.
 * source: Reif et al., ISSTA 2019, locally resolvable reflection
 * effect: breaks
 * category: Reflection: locally resolvable
 */
class Conditional {
    public static void main(String[] args) throws Exception {
        String name = System.nanoTime() == 1 ? "java.util.Date" : "java.sql.Date";
        System.out.println(Class.forName(name).getSimpleName());
    }
}
