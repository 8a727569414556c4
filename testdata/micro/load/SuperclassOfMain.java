package load;

/*
 * The main class itself extends a missing class.
 * source: JVMS §5.3.5 step 3
 * effect: breaks
 */
class SuperclassOfMain extends java.sql.Date {
    SuperclassOfMain() { super(0L); }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
