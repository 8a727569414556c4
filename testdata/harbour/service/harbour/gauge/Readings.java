package harbour.gauge;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;

/** Keeps readings in whatever database the JDBC URL names. */
final class Readings {
    private final Connection connection;

    Readings(String url) throws SQLException {
        connection = DriverManager.getConnection(url);
    }

    void add(Reading reading) throws SQLException {
        try (PreparedStatement insert = connection.prepareStatement("insert into readings values (?, ?, ?)")) {
            insert.setString(1, reading.station());
            insert.setLong(2, reading.taken());
            insert.setDouble(3, reading.level());
            insert.executeUpdate();
        }
        ReadingEvent event = new ReadingEvent();
        event.station = reading.station();
        event.level = reading.level();
        event.commit();
    }

    List<Reading> of(String station) throws SQLException {
        List<Reading> found = new ArrayList<>();
        try (PreparedStatement select =
                connection.prepareStatement("select * from readings where station = ?")) {
            select.setString(1, station);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    found.add(new Reading(rows.getString("station"), rows.getLong("taken"), rows.getDouble("level")));
                }
            }
        }
        return found;
    }
}
