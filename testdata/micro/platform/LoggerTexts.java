package platform;

import java.util.ListResourceBundle;
import java.util.logging.Level;
import java.util.logging.Logger;

/*
 * A logger is given the name of the bundle that has its texts.
 * source: Java SE API Logger.getLogger
 * effect: breaks
 * also: java.logging
 */
public class LoggerTexts {
    public static class Texts extends ListResourceBundle {
        protected Object[][] getContents() {
            return new Object[][] {{"high", "high at " + new java.sql.Timestamp(0L).getNanos()}};
        }
    }

    public static void main(String[] args) {
        Logger logger = Logger.getLogger("tide", "platform.LoggerTexts$Texts");
        System.out.println(logger.getResourceBundle().getString("high") + logger.isLoggable(Level.INFO));
    }
}
