package flow;

import java.util.ServiceLoader;

/**
 * Services by a class constant, by a variable and through a method.
 * case: 15
 * known: exact
 */
public class Services {
    public static void main(String[] args) {
        say(ServiceLoader.load(java.sql.Driver.class));
        Class<?> type = args.length > 0 ? Runnable.class : Comparable.class;
        say(ServiceLoader.load(type, Services.class.getClassLoader()));
        say(load(java.util.logging.Handler.class));
    }

    private static <T> ServiceLoader<T> load(Class<T> type) {
        return ServiceLoader.load(type);
    }

    private static void say(ServiceLoader<?> loader) {
        String text = loader.toString();
        System.out.println("asks " + text.substring(text.indexOf('[') + 1, text.length() - 1));
    }
}
