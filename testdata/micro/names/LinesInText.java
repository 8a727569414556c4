package names;

import java.io.ByteArrayInputStream;
import java.util.logging.Handler;
import java.util.logging.LogManager;
import java.util.logging.LogRecord;
import java.util.logging.Logger;

/*
 * A text has the lines of a properties file, and the platform loads a class that one of them names.
 * source: Java SE API LogManager
 * effect: degrades
 * also: java.logging
 * packed: yes
 */
public class LinesInText {
    public static class Board extends Handler {
        public void publish(LogRecord record) {
            System.out.println(record.getMessage() + " at " + new java.sql.Timestamp(0L).getNanos());
        }

        public void flush() {
        }

        public void close() {
        }
    }

    public static void main(String[] args) throws Exception {
        String lines = "handlers=names.LinesInText$Board\n.level=ALL\n";
        LogManager.getLogManager().readConfiguration(new ByteArrayInputStream(lines.getBytes()));
        try {
            Logger.getLogger("tide").severe("high water");
        } catch (LinkageError absent) {
            System.out.println("no board");
        }
    }
}
