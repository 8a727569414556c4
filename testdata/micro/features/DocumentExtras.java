package features;

/*
 * An interface for documents of the web is named.
 * source: module jdk.xml.dom
 * module: jdk.xml.dom
 * effect: breaks
 */
class DocumentExtras {
    public static void main(String[] args) {
        System.out.println(org.w3c.dom.html.HTMLElement.class.isInterface());
    }
}
