package layout;

/*
 * A version of a class needs a missing class, but the manifest does not ask for versions.
 * source: JAR File Specification; JEP 238
 * effect: fine
 * packed: yes
 */
class VersionsOff {
    public static void main(String[] args) {
        System.out.println(VersionsOffClock.nanos());
    }
}

class VersionsOffClock {
    static int nanos() { return 0; }
}
