package flow;

/**
 * Names joined of variables, by the compiler's means of each release.
 * case: 3
 * known: exact
 */
public class Concatenation {
    public static void main(String[] args) throws Exception {
        String tide = args.length > 0 ? "java.util.logging" : "java.sql";
        String kind = args.length > 0 ? "Level" : "Driver";
        char dot = '.';
        System.out.println("asks " + Class.forName(tide + dot + kind).getName());
        String name = "java.";
        name += "sql";
        name += ".Date";
        System.out.println("asks " + Class.forName(name).getName());
        String path = "java/sql/Time".replace('/', '.');
        System.out.println("asks " + Class.forName(path.concat("stamp")).getName());
    }
}
