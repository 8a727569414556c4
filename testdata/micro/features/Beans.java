package features;

/*
 * Properties of an own bean are introspected.
 * source: Java SE API java.beans.Introspector
 * module: java.desktop
 * effect: breaks
 */
class Beans {
    public int getLevel() { return 212; }

    public static void main(String[] args) throws Exception {
        System.out.println(java.beans.Introspector.getBeanInfo(Beans.class).getPropertyDescriptors().length);
    }
}
