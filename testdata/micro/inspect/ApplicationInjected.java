package inspect;

/*
 * A library creates what the parameters of an application's constructors ask for; the application is a jar.
 * source: Java SE API Constructor.getParameterTypes
 * effect: breaks
 * library: Injector
 * packed: yes
 */
public class ApplicationInjected {
    public static class Store {
        int level() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    final Store store;

    public ApplicationInjected(Store store) {
        this.store = store;
    }

    public static class Injector {
        static Object make(Class<?> type) throws Exception {
            var constructor = type.getDeclaredConstructors()[0];
            Object[] given = new Object[constructor.getParameterCount()];
            for (int i = 0; i < given.length; i++) given[i] = make(constructor.getParameterTypes()[i]);
            constructor.setAccessible(true);
            return constructor.newInstance(given);
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(((ApplicationInjected) Injector.make(ApplicationInjected.class)).store.level());
    }
}
