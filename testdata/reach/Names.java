package reach;

import java.util.ServiceLoader;

/**
 * Names on their way through several classes to the calls that look them up. Every name that is asked for is printed; what
 * stands in a method called {@code never} is asked for by nobody, or only if the program is started with an argument.
 */
public final class Names {
    private Names() {}

    public static void main(String[] arguments) throws Exception {
        // Two levels of parameters.
        Helper.find("java.sql.Driver");
        Helper.find("java.sql.Array");
        // A final field of another class, and one that a nested class writes.
        asks("staticField", Class.forName(Table.NAME));
        asks("writtenElsewhere", Class.forName(Written.name));
        // A field that the constructor fills, with what its callers give.
        new Holder("java.util.logging.Handler").load();
        new Holder("java.util.logging.Filter").load();
        // A conditional.
        asks("conditional", Class.forName(arguments.length == 0 ? "javax.naming.Context" : "javax.naming.Name"));
        // What a method gives back that subclasses override.
        Station station = arguments.length == 1 ? new Station() : new FloatingStation();
        asks("result", Class.forName(station.name()));
        // A service, by way of a parameter.
        Helper.provide(java.sql.Driver.class);
        // A member of a class known by name.
        Class<?> factory = Class.forName("java.lang.management.ManagementFactory");
        asks("member", factory.getMethod("getPlatformMBeanServer").getDeclaringClass());
        // A property of the program, and what is taken where it has none.
        asks("property", Class.forName(System.getProperty("gauge.driver", "javax.sql.DataSource")));
        if (arguments.length > 1) {
            Later.never(arguments[0]);
        }
    }

    static void asks(String where, Class<?> found) {
        System.out.println(where + " " + found.getName());
    }
}

final class Helper {
    private Helper() {}

    static void find(String name) throws ClassNotFoundException {
        load(name, true);
    }

    private static void load(String name, boolean initialise) throws ClassNotFoundException {
        Names.asks("levels", Class.forName(name, initialise, Helper.class.getClassLoader()));
    }

    static void provide(Class<?> service) {
        ServiceLoader.load(service);
        Names.asks("service", service);
    }
}

final class Table {
    static final String NAME;

    static {
        NAME = "java.rmi.Remote";
    }

    private Table() {}
}

final class Written {
    static String name = "java.rmi.server.RemoteObject";

    private Written() {}

    static final class Nested {
        private Nested() {}

        static void never() {
            name = "java.rmi.server.UID";
        }
    }
}

final class Holder {
    private final String name;

    Holder(String name) {
        this.name = name;
    }

    void load() throws ClassNotFoundException {
        Names.asks("instanceField", Class.forName(name));
    }
}

class Station {
    String name() {
        return "javax.xml.parsers.SAXParser";
    }
}

class FloatingStation extends Station {
    @Override
    String name() {
        return "javax.xml.parsers.DocumentBuilder";
    }
}

class SunkenStation extends Station {
    private SunkenStation() {}

    @Override
    String name() {
        return never();
    }

    private static String never() {
        return "javax.xml.transform.Source";
    }
}

final class Later {
    private Later() {}

    static void never(String name) throws ClassNotFoundException {
        Helper.find("javax.script.ScriptEngine");
        Written.Nested.never();
        // Nobody knows what.
        Class.forName(name);
    }
}
