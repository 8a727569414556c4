package harbour.gauge;

import java.nio.charset.Charset;

/** Understands the telegrams of gauges old enough to speak EBCDIC. */
final class LegacyGauge {
    private LegacyGauge() {}

    /** A telegram is the station's key, a blank, and the level in metres. */
    static Reading read(byte[] telegram, long taken) {
        String[] words = new String(telegram, Charset.forName("IBM1047")).trim().split(" ");
        return new Reading(words[0], taken, Double.parseDouble(words[1]));
    }
}
