package flow;

import java.lang.reflect.Proxy;
import java.util.ListResourceBundle;
import java.util.ResourceBundle;

/**
 * Classes whose members are asked for, proxies, instances, bundles.
 * case: 0
 * known: exact
 */
public class Reflected {
    public static void main(String[] args) throws Exception {
        say(java.sql.DriverPropertyInfo.class.getDeclaredConstructors()[0].getDeclaringClass());
        Class<?> type = Class.forName("java.sql.Date");
        say(type.getConstructor(long.class).newInstance(0L).getClass());
        Object proxy = Proxy.newProxyInstance(Reflected.class.getClassLoader(),
            new Class<?>[] {Runnable.class, java.sql.Wrapper.class}, (on, method, with) -> null);
        for (Class<?> face : proxy.getClass().getInterfaces()) {
            say(face);
        }
        say(ResourceBundle.getBundle("flow.Reflected$Texts").getClass());
    }

    private static void say(Class<?> type) {
        System.out.println("asks " + type.getName());
    }

    public static final class Texts extends ListResourceBundle {
        @Override
        protected Object[][] getContents() {
            return new Object[0][];
        }
    }
}
