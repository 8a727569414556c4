package names;

/*
 * A name is put together from the package of an object.
 * source: Java SE API Class.getPackage
 * effect: breaks
 */
public class PackageOfThis {
    public static class Gauge {
        public Gauge() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
        }
    }

    Object make() throws Exception {
        String name = getClass().getPackage().getName() + ".PackageOfThis$" + "Gau".concat("ge");
        return Class.forName(name).getConstructor().newInstance();
    }

    public static void main(String[] args) throws Exception {
        System.out.println(new PackageOfThis().make());
    }
}
