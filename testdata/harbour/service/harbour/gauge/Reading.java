package harbour.gauge;

/** One level in metres, taken at a time in milliseconds since 1970. */
public record Reading(String station, long taken, double level) {}
