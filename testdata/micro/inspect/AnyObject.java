package inspect;

import java.util.ArrayList;
import java.util.List;

/*
 * Methods are listed of whatever stands in a list.
 * source: Java SE API Class.getDeclaredMethods
 * effect: breaks
 */
public class AnyObject {
    public static class Reading {
        public java.sql.Timestamp at() { return null; }
    }

    public static void main(String[] args) {
        List<Object> all = new ArrayList<>();
        all.add(new Reading());
        for (Object one : all) {
            System.out.println(one.getClass().getDeclaredMethods().length);
        }
    }
}
