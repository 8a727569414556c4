package inspect;

/*
 * The bound of a type parameter is asked for, and is missing.
 * source: Java SE API TypeNotPresentException
 * effect: breaks
 */
class GenericBounds {
    static class Box<T extends java.sql.Date> { }

    public static void main(String[] args) {
        System.out.println(Box.class.getTypeParameters()[0].getBounds().length);
    }
}
