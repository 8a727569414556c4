package platform;

/*
 * A system property names a factory of the program.
 * source: Java SE API SAXParserFactory.newInstance
 * effect: breaks
 * also: java.xml
 */
public class XmlFactory {
    public static class Factory extends javax.xml.parsers.SAXParserFactory {
        public javax.xml.parsers.SAXParser newSAXParser() {
            System.out.println(new java.sql.Timestamp(0L).getNanos());
            return null;
        }
        public void setFeature(String n, boolean v) { }
        public boolean getFeature(String n) {
            return false;
        }
    }

    public static void main(String[] args) throws Exception {
        System.setProperty("javax.xml.parsers.SAXParserFactory", "platform.XmlFactory$Factory");
        System.out.println(javax.xml.parsers.SAXParserFactory.newInstance().newSAXParser() == null);
    }
}
