package run;

/*
 * A static method of a missing class is called.
 * source: JVMS §6.5 invokestatic
 * effect: breaks
 */
class StaticCall {
    public static void main(String[] args) {
        System.out.println(java.sql.DriverManager.getLoginTimeout());
    }
}
