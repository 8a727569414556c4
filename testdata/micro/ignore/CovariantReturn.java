package ignore;

/*
 * A method overrides another with a missing type as its narrower result.
 * source: JVMS §5.4.5, JLS §8.4.5
 * effect: fine
 */
class CovariantReturn {
    static class Store {
        Object open() { return null; }
    }

    static class Archive extends Store {
        @Override java.sql.Connection open() { return null; }
    }

    public static void main(String[] args) {
        Store store = new Archive();
        System.out.println(store.open() == null);
    }
}
