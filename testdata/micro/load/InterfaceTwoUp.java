package load;

/*
 * A lambda implements an interface of the program's own that extends a missing one.
 * source: JVMS §5.3.5 step 4
 * effect: breaks
 */
class InterfaceTwoUp {
    interface Gauge extends java.sql.Wrapper {
        default <T> T unwrap(Class<T> type) { return null; }
        default boolean isWrapperFor(Class<?> type) { return false; }
        int level();
    }

    public static void main(String[] args) {
        Gauge gauge = () -> 212;
        System.out.println(gauge.level());
    }
}
