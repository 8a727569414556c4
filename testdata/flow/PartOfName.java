package flow;

/**
 * The middle of a name comes from outside.
 * case: 3
 * known: pattern
 */
public class PartOfName {
    public static void main(String[] args) throws Exception {
        String kind = args[0];
        System.out.println("asks " + Class.forName("java.sql." + kind).getName());
        System.out.println("asks " + Class.forName(new StringBuilder(args[3]).insert(0, "java.sql.Sav").append("point")
            .toString()).getName());
        System.out.println("asks " + Class.forName(String.format("java.sql.%sMetaData", args[1])).getName());
        StringBuilder loop = new StringBuilder("javax.");
        for (int at = 2; at < args.length - 1; at++) {
            loop.append(args[at]).append('.');
        }
        System.out.println("asks " + Class.forName(loop.append("DataSource").toString()).getName());
    }
}
