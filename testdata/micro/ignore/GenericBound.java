package ignore;

/*
 * Type parameters and fields mention a missing type in their generic signatures only.
 * source: JVMS §4.7.9.1
 * effect: fine
 */
class GenericBound {
    static class Box<T extends java.sql.Wrapper> {
        java.util.List<java.sql.Date> dates = new java.util.ArrayList<>();
    }

    public static void main(String[] args) {
        System.out.println(new Box<>().dates.size());
    }
}
