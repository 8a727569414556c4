package guard;

/*
 * A program asks the boot layer for a module.
 * source: Java SE API ModuleLayer.findModule
 * effect: guarded
 */
class ModuleProbe {
    public static void main(String[] args) {
        boolean there = ModuleLayer.boot().findModule("java.sql").isPresent();
        System.out.println(there ? "drivers" : "without: drivers");
    }
}
