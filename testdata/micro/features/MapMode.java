package features;

/*
 * A map mode for lasting memory is named.
 * source: JEP 352
 * module: jdk.nio.mapmode
 * effect: breaks
 */
class MapMode {
    public static void main(String[] args) {
        System.out.println(jdk.nio.mapmode.ExtendedMapMode.READ_ONLY_SYNC);
    }
}
