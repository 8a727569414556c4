package names;

/*
 * A name is made of an internal name by replacing slashes.
 * source: JVMS §4.2.1
 * effect: breaks
 * category: Reflection: locally resolvable
 */
class SlashesReplaced {
    public static void main(String[] args) throws Exception {
        System.out.println(Class.forName("java/sql/Driver".replace('/', '.')).isInterface());
    }
}
