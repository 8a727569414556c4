package layout;

/*
 * A version of a class for release 21 needs a missing class; the one for older releases does not.
 * source: JEP 238, JAR File Specification
 * effect: fine on 17, breaks on 25
 * packed: yes
 */
class VersionAdds {
    public static void main(String[] args) {
        System.out.println(VersionAddsClock.nanos());
    }
}

class VersionAddsClock {
    static int nanos() { return 0; }
}
