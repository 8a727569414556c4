package layout;

/*
 * A version of a class for release 21 no longer needs the missing class that older releases need.
 * source: JEP 238, JAR File Specification
 * effect: breaks on 17, fine on 25
 * packed: yes
 */
class VersionRemoves {
    public static void main(String[] args) {
        System.out.println(VersionRemovesClock.nanos());
    }
}

class VersionRemovesClock {
    static int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
}
