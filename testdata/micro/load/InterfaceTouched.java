package load;

/*
 * A class that implements a missing interface is created.
 * source: JVMS §5.3.5 step 4
 * effect: breaks
 */
class InterfaceTouched {
    static class Gauge implements java.sql.Wrapper {
        public <T> T unwrap(Class<T> type) { return null; }
        public boolean isWrapperFor(Class<?> type) { return false; }
    }

    public static void main(String[] args) {
        System.out.println(new Gauge().getClass().getSimpleName());
    }
}
