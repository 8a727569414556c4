package flow;

import java.lang.invoke.MethodHandles;

/**
 * A look-up object finds the class.
 * case: 12
 * known: exact
 */
public class LookupFind {
    public static void main(String[] args) throws Exception {
        System.out.println("asks " + MethodHandles.lookup().findClass("java.sql.Driver").getName());
    }
}
