package inspect;

/*
 * A proxy is made for an interface whose superinterface has a method with a missing type.
 * source: Java SE API java.lang.reflect.Proxy
 * effect: breaks
 */
class InheritedByProxy {
    interface Store {
        java.sql.Connection open();
    }

    interface Shed extends Store { }

    public static void main(String[] args) {
        Object proxy = java.lang.reflect.Proxy.newProxyInstance(InheritedByProxy.class.getClassLoader(),
            new Class<?>[] {Shed.class}, (self, method, given) -> null);
        System.out.println(proxy instanceof Shed);
    }
}
