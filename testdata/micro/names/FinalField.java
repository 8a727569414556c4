package names;

/*
 * A name stands in a final field of the object.
 * source: Reif et al., ISSTA 2019, locally resolvable reflection
 * effect: breaks
 * category: Reflection: locally resolvable
 */
class FinalField {
    final String name;

    FinalField(String name) { this.name = name; }

    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName(new FinalField("java.sql.Driver").name).isInterface());
    }
}
