package reach;

import java.sql.Driver;
import java.sql.SQLException;

/**
 * Initialises the classes named by its arguments one by one, none of whose other methods ever run. Whether that goes well
 * without java.sql is what the verifier asks for. The first part of a name says what should come of it.
 */
public final class Linking {
    private Linking() {}

    public static void main(String[] names) {
        for (String name : names) {
            String outcome;
            try {
                Class.forName("reach." + name);
                outcome = "links";
            } catch (ClassNotFoundException | LinkageError e) {
                outcome = "fails";
            }
            System.out.println(name + " " + outcome);
        }
    }
}

class Overflow extends SQLException {
    private static final long serialVersionUID = 1L;
}

interface Pump {
    void run(Driver driver) throws Overflow;
}

final class FailsBySource {
    static Exception widened(Overflow overflow) {
        return overflow;
    }
}

final class FailsByTarget {
    static Driver narrowed(Special special) {
        return special;
    }

    abstract static class Special implements Driver {}
}

final class FailsByCatch {
    static boolean caught(Pump pump) {
        try {
            pump.run(null);
            return true;
        } catch (Overflow e) {
            return false;
        }
    }
}

final class FailsByThrow {
    static void thrown(Overflow overflow) throws Overflow {
        throw overflow;
    }
}

final class LinksSameName {
    static Driver same(Driver driver) {
        return driver;
    }
}

final class LinksAsObject {
    static Object object(Overflow overflow) {
        return overflow;
    }
}

final class LinksToInterface {
    // The target is loaded, found to be an interface, and taken for Object: the source is not loaded.
    static java.io.Serializable asInterface(Overflow overflow) {
        return overflow;
    }
}

final class LinksWithNew {
    static void created(Pump pump) throws Overflow {
        pump.run((Driver) new Object());
        new Overflow();
    }
}

final class LinksWithArrays {
    static Object[] all(Driver[] drivers) {
        return drivers;
    }
}
