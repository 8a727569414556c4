package harbour.gauge;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.SAXException;

/** Reads the list of gauges from XML. */
final class StationFile {
    private StationFile() {}

    static List<Station> bundled() throws IOException {
        try (InputStream in = StationFile.class.getResourceAsStream("/stations.xml")) {
            return read(in);
        }
    }

    static List<Station> read(InputStream in) throws IOException {
        NodeList nodes;
        try {
            nodes = DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(in)
                    .getElementsByTagName("station");
        } catch (ParserConfigurationException | SAXException e) {
            throw new IOException("not a station file", e);
        }
        List<Station> stations = new ArrayList<>();
        for (int i = 0; i < nodes.getLength(); i++) {
            Element element = (Element) nodes.item(i);
            stations.add(new Station(element.getAttribute("id"), element.getAttribute("name"),
                    Double.parseDouble(element.getAttribute("datum"))));
        }
        return stations;
    }
}
