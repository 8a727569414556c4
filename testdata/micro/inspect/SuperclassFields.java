package inspect;

/*
 * A copier lists the fields of whatever it is given, and of its superclasses.
 * source: Java SE API Class.getSuperclass
 * effect: breaks
 * library: Copier
 * packed: yes
 */
public class SuperclassFields {
    public static class Reading {
        java.sql.Timestamp at;
    }

    public static class Tide extends Reading {
        int level = 4;
    }

    public static class Copier {
        static int count(Object of) {
            int count = 0;
            for (Class<?> type = of.getClass(); type != null; type = type.getSuperclass())
                count += type.getDeclaredFields().length;
            return count;
        }
    }

    public static void main(String[] args) {
        System.out.println(Copier.count(new Tide()));
    }
}
