package flow;

import java.util.Arrays;
import java.util.Collections;
import java.util.Iterator;
import java.util.List;

/**
 * Names in lists that never change.
 * case: 0
 * known: exact
 */
public class InList {
    private static final List<String> NAMES = Collections.unmodifiableList(Arrays.asList("java.sql.Driver", "java.sql.Date"));

    public static void main(String[] args) throws Exception {
        for (String name : NAMES) {
            System.out.println("asks " + Class.forName(name).getName());
        }
        Iterator<String> names = Collections.singletonList("java.sql.Time").iterator();
        System.out.println("asks " + Class.forName(names.next()).getName());
    }
}
