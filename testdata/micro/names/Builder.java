package names;

/*
 * A name is put together with a string builder.
 * source: Reif et al., ISSTA 2019, locally resolvable reflection; Smaragdakis et al., APLAS 2015
 * effect: breaks
 * category: Reflection: locally resolvable
 */
class Builder {
    public static void main(String[] args) throws Exception {
        StringBuilder name = new StringBuilder("java.sql");
        name.append('.').append("Driver");
        System.out.println(Class.forName(name.toString()).isInterface());
    }
}
