package ignore;

/*
 * A default method of an interface has a missing type in its signature.
 * source: JVMS §5.4.3.3
 * effect: fine
 */
class DefaultInterfaceMethod {
    interface Store {
        default java.sql.Connection open(java.sql.Connection old) { return old; }
    }

    static class Archive implements Store { }

    public static void main(String[] args) {
        System.out.println(new Archive().open(null) == null);
    }
}
