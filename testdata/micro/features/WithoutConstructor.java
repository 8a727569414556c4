package features;

/*
 * Objects are created without a constructor, and where that fails, by something that fails when it is used.
 * source: JEP 260
 * module: jdk.unsupported
 * effect: breaks
 */
class WithoutConstructor {
    static class Reading {
        final int level;

        Reading(int level) {
            this.level = level;
        }
    }

    interface Maker {
        Object make(Class<?> type) throws Exception;
    }

    static Maker maker() {
        try {
            Class<?> unsafe = Class.forName("sun.misc.Unsafe");
            var held = unsafe.getDeclaredField("theUnsafe");
            held.setAccessible(true);
            Object instance = held.get(null);
            var allocate = unsafe.getMethod("allocateInstance", Class.class);
            return type -> allocate.invoke(instance, type);
        } catch (Exception absent) {
            // Another way may do.
        }
        return type -> {
            throw new UnsupportedOperationException("no way to create " + type);
        };
    }

    public static void main(String[] args) throws Exception {
        System.out.println(maker().make(Reading.class) != null);
    }
}
