package guard;

/*
 * A descriptor with a missing type is parsed, and its absence is caught.
 * source: Java SE API MethodType.fromMethodDescriptorString
 * effect: guarded
 */
class DescriptorText {
    public static void main(String[] args) {
        try {
            ClassLoader loader = DescriptorText.class.getClassLoader();
            var type = java.lang.invoke.MethodType.fromMethodDescriptorString("(Ljava/sql/Driver;)V", loader);
            System.out.println(type.parameterCount());
        } catch (TypeNotPresentException missing) {
            System.out.println("without: drivers");
        }
    }
}
