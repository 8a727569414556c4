package flow;

/**
 * The loader of the thread is asked.
 * case: 9
 * known: exact
 */
public class ContextLoader {
    public static void main(String[] args) throws Exception {
        ClassLoader loader = Thread.currentThread().getContextClassLoader();
        System.out.println("asks " + loader.loadClass("java.sql.Driver").getName());
        try {
            System.out.println("asks " + new Own(loader).loadClass("java.sql.Date").getName());
        } finally {
            System.out.flush();
        }
    }

    static final class Own extends ClassLoader {
        Own(ClassLoader parent) {
            super(parent);
        }
    }
}
