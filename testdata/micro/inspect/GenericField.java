package inspect;

/*
 * The generic type of a field is asked for, and its argument is missing.
 * source: Java SE API TypeNotPresentException
 * effect: breaks
 */
class GenericField {
    java.util.List<java.sql.Date> dates;

    public static void main(String[] args) throws Exception {
        System.out.println(GenericField.class.getDeclaredField("dates").getGenericType() != null);
    }
}
