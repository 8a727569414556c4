package harbour.gauge;

import jdk.jfr.Category;
import jdk.jfr.Event;
import jdk.jfr.Label;
import jdk.jfr.Name;

/** What a flight recording shows of a stored reading. */
@Name("harbour.Reading")
@Label("Gauge reading")
@Category("Harbour")
public final class ReadingEvent extends Event {
    @Label("Station")
    String station;

    @Label("Level above chart datum in metres")
    double level;
}
