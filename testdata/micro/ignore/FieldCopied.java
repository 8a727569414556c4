package ignore;

/*
 * A field of a missing type is read and stored into a field of the same type.
 * source: JVMS §5.4.3.2, §4.10.1.2
 * effect: fine
 */
class FieldCopied {
    static java.sql.Connection first;
    static java.sql.Connection second;

    public static void main(String[] args) {
        second = first;
        System.out.println(second == null);
    }
}
