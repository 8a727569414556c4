package harbour.gauge;

/** A tide gauge: its key, its name, and its datum in metres against chart datum. */
public record Station(String id, String name, double datum) {}
