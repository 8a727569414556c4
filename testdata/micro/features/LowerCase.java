package features;

/*
 * A string is turned to small letters by Turkish rules, which java.base has.
 * source: Java SE API String.toLowerCase
 * module: jdk.localedata
 * effect: fine
 */
class LowerCase {
    public static void main(String[] args) {
        System.out.println("TIDE".toLowerCase(new java.util.Locale("tr")));
    }
}
