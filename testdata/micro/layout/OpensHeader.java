package layout;

/*
 * The manifest opens a package of a missing module, which is passed over in silence.
 * source: JEP 261, JDK sources of sun.launcher.LauncherHelper
 * effect: fine
 * packed: yes
 */
class OpensHeader {
    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
