package tidestore;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;

/** The one table that the driver knows: rows of station, time and level. */
final class TideTable {
    static final List<String> COLUMNS = List.of("station", "taken", "level");

    private final List<String[]> rows = new ArrayList<>();
    private final Path file;

    TideTable() {
        file = null;
    }

    private TideTable(Path file) {
        this.file = file;
    }

    static TideTable open(Path file) throws SQLException {
        TideTable table = new TideTable(file);
        try {
            if (Files.exists(file)) {
                for (String line : Files.readAllLines(file)) {
                    table.rows.add(line.split("\t", -1));
                }
            }
        } catch (IOException e) {
            throw new SQLException("cannot read " + file, e);
        }
        return table;
    }

    synchronized void insert(String[] row) throws SQLException {
        if (file != null) {
            try {
                Files.writeString(file, String.join("\t", row) + "\n",
                        StandardOpenOption.CREATE, StandardOpenOption.APPEND);
            } catch (IOException e) {
                throw new SQLException("cannot write " + file, e);
            }
        }
        rows.add(row);
    }

    /** Rows whose named column has the value; all rows for a column of null. */
    synchronized List<String[]> select(String column, String value) throws SQLException {
        if (column == null) {
            return List.copyOf(rows);
        }
        int at = index(column);
        return rows.stream().filter(row -> row[at].equals(value)).toList();
    }

    static int index(String column) throws SQLException {
        int at = COLUMNS.indexOf(column);
        if (at < 0) {
            throw new SQLException("no column " + column);
        }
        return at;
    }
}
