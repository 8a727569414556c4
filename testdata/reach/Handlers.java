package reach;

/**
 * One method for each way to bear the absence of a class, or not to bear it. {@code Sluice} is taken away before the
 * program runs. The first part of a name says what protects the call in it: nothing ("open"), a handler for failed
 * look-ups ("lookup"), one for absent classes ("absence").
 */
public final class Handlers {
    private Handlers() {}

    static int kept;

    public static void main(String[] names) throws Exception {
        for (String name : names) {
            String outcome;
            try {
                Handlers.class.getDeclaredMethod(name).invoke(null);
                outcome = "goes on";
            } catch (java.lang.reflect.InvocationTargetException e) {
                outcome = "throws";
            }
            System.out.println(name + " " + outcome);
        }
    }

    static void open_nothing() {
        Sluice.open();
    }

    static void open_otherError() {
        try {
            Sluice.open();
        } catch (UnsatisfiedLinkError | RuntimeException e) {
            kept = 1;
        }
    }

    static void absence_named() {
        try {
            Sluice.open();
        } catch (NoClassDefFoundError e) {
            kept = 2;
        }
    }

    static boolean absence_linkage() {
        try {
            Sluice.open();
            return true;
        } catch (LinkageError e) {
            return false;
        }
    }

    static void lookup_anyThrowable() {
        try {
            Sluice.open();
        } catch (Throwable e) {
            kept = 3;
        }
    }

    static void open_throwsAgain() {
        try {
            Sluice.open();
        } catch (NoClassDefFoundError e) {
            throw new IllegalStateException(e);
        }
    }

    static void open_throwsOnEveryWay() {
        try {
            Sluice.open();
        } catch (LinkageError e) {
            switch (kept) {
                case 1: throw e;
                case 2: throw new IllegalStateException("no sluice");
                default:
                    if (e.getMessage() == null) {
                        throw new IllegalArgumentException();
                    }
                    throw new UnsupportedOperationException();
            }
        }
    }

    static void absence_throwsOnOneWay() {
        try {
            Sluice.open();
        } catch (LinkageError e) {
            if (kept < 0) {
                throw e;
            }
            for (int i = 0; i < 3; i++) {
                kept = i;
            }
        }
    }

    static void open_cleansUp() {
        try {
            Sluice.open();
        } finally {
            kept = 4;
        }
    }

    static void absence_cleansUp() {
        try {
            try {
                Sluice.open();
            } finally {
                kept = 5;
            }
        } catch (NoClassDefFoundError e) {
            kept = 6;
        }
    }

    static void absence_withResource() throws Exception {
        try (java.io.StringReader reader = new java.io.StringReader("tide")) {
            Sluice.open();
        } catch (NoClassDefFoundError e) {
            kept = 7;
        }
    }

    static void absence_synchronized() {
        synchronized (Handlers.class) {
            try {
                Sluice.open();
            } catch (NoClassDefFoundError e) {
                kept = 8;
            }
        }
    }

    static void absence_outerGoesOn() {
        try {
            try {
                Sluice.open();
            } catch (NoClassDefFoundError e) {
                throw new IllegalStateException(e);
            }
        } catch (Exception e) {
            kept = 9;
        }
    }

    static void open_firstOfTwoThrows() {
        try {
            Sluice.open();
        } catch (NoClassDefFoundError e) {
            throw e;
        } catch (Throwable e) {
            kept = 10;
        }
    }

    static void open_rangeEndsBefore() {
        try {
            kept = 11;
        } catch (NoClassDefFoundError e) {
            kept = 12;
        }
        Sluice.open();
    }

    static void absence_triesOnce() {
        for (int i = 0; i < 2; i++) {
            try {
                Sluice.open();
                break;
            } catch (NoClassDefFoundError e) {
                continue;
            }
        }
    }

    static void open_ends() {
        try {
            Sluice.open();
        } catch (NoClassDefFoundError e) {
            System.exit(3);
        }
    }

    static void open_halts() {
        try {
            Sluice.open();
        } catch (NoClassDefFoundError e) {
            Runtime.getRuntime().halt(3);
        }
    }

    static void lookup_byName() {
        try {
            Class.forName("reach.Sluice");
        } catch (ClassNotFoundException e) {
            kept = 13;
        }
    }

    static void lookup_reflective() {
        try {
            Class.forName("reach.Sluice");
        } catch (ReflectiveOperationException e) {
            kept = 14;
        }
    }

    static void absence_byNameAndLinkage() {
        try {
            Class.forName("reach.Sluice");
        } catch (ClassNotFoundException | LinkageError e) {
            kept = 15;
        }
    }

    static void open_byNameLinkageOnly() throws Exception {
        try {
            Class.forName("reach.Sluice");
        } catch (LinkageError e) {
            kept = 16;
        }
    }

    static void open_byNameThrowsAgain() {
        try {
            Class.forName("reach.Sluice");
        } catch (ClassNotFoundException e) {
            throw new IllegalStateException(e);
        }
    }
}
