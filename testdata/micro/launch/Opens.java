package launch;

/*
 * A package of a missing module is opened at launch, which brings a warning only.
 * source: JEP 261
 * judge: image
 * told: launch
 * options: --add-opens java.sql/java.sql=ALL-UNNAMED
 * effect: fine
 */
class Opens {
    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
