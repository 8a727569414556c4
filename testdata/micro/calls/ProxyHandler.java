package calls;

/*
 * A call on a proxy reaches its handler, which needs a missing class.
 * source: Fourtounis et al., ISSTA 2018
 * effect: breaks
 * category: Dynamic proxy
 */
class ProxyHandler implements java.lang.reflect.InvocationHandler {
    interface Clock { int nanos(); }

    public Object invoke(Object proxy, java.lang.reflect.Method method, Object[] given) {
        return new java.sql.Timestamp(0L).getNanos();
    }

    public static void main(String[] args) {
        Object proxy = java.lang.reflect.Proxy.newProxyInstance(ProxyHandler.class.getClassLoader(),
            new Class<?>[] {Clock.class}, new ProxyHandler());
        System.out.println(((Clock) proxy).nanos());
    }
}
