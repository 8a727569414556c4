package link;

/*
 * A stream source of a missing package is handed to a missing interface's parameter: a main class that never starts.
 * source: JVMS §4.10.1.2
 * module: java.xml
 * effect: breaks
 */
class MissingPairOfPlatform {
    private static void style(javax.xml.transform.TransformerFactory factory) throws Exception {
        factory.newTemplates(new javax.xml.transform.stream.StreamSource("gauges.xsl"));
    }

    public static void main(String[] args) {
        System.out.println("level 212 cm");
    }
}
