package platform;

/*
 * A factory of the program is asked for by its name.
 * source: Java SE API SAXParserFactory.newInstance
 * effect: breaks
 * also: java.xml
 */
public class XmlFactoryNamed {
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
        System.out.println(javax.xml.parsers.SAXParserFactory.newInstance("platform.XmlFactoryNamed$Factory",
            null).newSAXParser() == null);
    }
}
