package inspect;

/*
 * A proxy is made for an interface with a missing type in a method's signature.
 * source: Java SE API java.lang.reflect.Proxy
 * effect: breaks
 * category: Dynamic proxy
 */
class Proxied {
    interface Store {
        java.sql.Connection open();
    }

    public static void main(String[] args) {
        Object proxy = java.lang.reflect.Proxy.newProxyInstance(Proxied.class.getClassLoader(),
            new Class<?>[] {Store.class}, (self, method, given) -> null);
        System.out.println(proxy instanceof Store);
    }
}
