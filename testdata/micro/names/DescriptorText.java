package names;

/*
 * A descriptor with a missing type is parsed.
 * source: Java SE API MethodType.fromMethodDescriptorString
 * effect: breaks
 * category: Modern reflection
 */
class DescriptorText {
    public static void main(String[] args) {
        ClassLoader loader = DescriptorText.class.getClassLoader();
        String text = "(Ljava/sql/Driver;)V";
        System.out.println(java.lang.invoke.MethodType.fromMethodDescriptorString(text, loader).parameterCount());
    }
}
