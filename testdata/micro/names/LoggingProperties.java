package names;

/*
 * A formatter stands in the file that the logging of the platform is given.
 * source: Java SE API LogManager.readConfiguration
 * effect: breaks
 * packed: yes
 * also: java.logging
 */
public class LoggingProperties {
    public static class Line extends java.util.logging.Formatter {
        public String format(java.util.logging.LogRecord entry) {
            return new java.sql.Timestamp(0L).getNanos() + entry.getMessage() + "\n";
        }
    }

    public static void main(String[] args) throws Exception {
        try (var file = LoggingProperties.class.getResourceAsStream("/logging.properties")) {
            java.util.logging.LogManager.getLogManager().readConfiguration(file);
        }
        var tide = new java.util.logging.LogRecord(java.util.logging.Level.INFO, "tide");
        for (var handler : java.util.logging.Logger.getLogger("").getHandlers())
            System.out.print(handler.getFormatter().format(tide));
    }
}
