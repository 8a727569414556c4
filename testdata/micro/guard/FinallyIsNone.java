package guard;

/*
 * A finally clause stands around the creation of an object of a missing class.
 * source: JLS §14.20.2
 * effect: breaks
 */
class FinallyIsNone {
    public static void main(String[] args) {
        try {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        } finally {
            System.out.println("level 212 cm");
        }
    }
}
