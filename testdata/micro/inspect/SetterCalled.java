package inspect;

/*
 * A library calls the setters of an object that it is handed.
 * source: Java SE API Class.getMethods
 * effect: breaks
 * library: Mapper
 */
public class SetterCalled {
    public static class Gauge {
        public void setNanos(int of) {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    static class Mapper {
        static void fill(Object bean) throws Exception {
            for (var m : bean.getClass().getMethods()) if (m.getName().startsWith("set")) m.invoke(bean, 1);
        }
    }

    static class Box {
        Object held;
        Object held() {
            return held;
        }
    }

    public static void main(String[] args) throws Exception {
        Box box = new Box();
        box.held = new Gauge();
        Mapper.fill(java.util.Map.of("a", box.held()).get("a"));
    }
}
