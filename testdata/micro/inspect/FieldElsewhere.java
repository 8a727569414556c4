package inspect;

import java.lang.reflect.Field;
import java.util.Map;

/*
 * A library lists the fields of whatever object it is given, and asks for their generic types.
 * source: Java SE API Class.getDeclaredFields, Field.getGenericType
 * effect: breaks
 * packed: yes
 * library: Binder
 */
public class FieldElsewhere {
    public static class Binder {
        public static String names(Object object) {
            StringBuilder names = new StringBuilder();
            for (Field field : object.getClass().getDeclaredFields()) {
                names.append(field.getGenericType()).append(' ');
            }
            return names.toString();
        }
    }

    static class Reading {
        Map<String, java.sql.Timestamp> at;
    }

    public static void main(String[] args) {
        System.out.println(Binder.names(new Reading()));
    }
}
