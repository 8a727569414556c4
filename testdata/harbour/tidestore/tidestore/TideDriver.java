package tidestore;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.Driver;
import java.sql.DriverManager;
import java.sql.DriverPropertyInfo;
import java.sql.SQLException;
import java.util.Properties;
import java.util.logging.Logger;

/** Driver for {@code jdbc:tide:} (kept in memory) and {@code jdbc:tide:FILE} (lines appended to a file). */
public final class TideDriver implements Driver {
    private static final String PREFIX = "jdbc:tide:";

    static {
        try {
            DriverManager.registerDriver(new TideDriver());
        } catch (SQLException e) {
            throw new ExceptionInInitializerError(e);
        }
    }

    @Override
    public Connection connect(String url, Properties info) throws SQLException {
        if (!acceptsURL(url)) {
            return null;
        }
        String file = url.substring(PREFIX.length());
        return Proxies.connection(file.isEmpty() ? new TideTable() : TideTable.open(Path.of(file)));
    }

    @Override
    public boolean acceptsURL(String url) {
        return url.startsWith(PREFIX);
    }

    @Override
    public DriverPropertyInfo[] getPropertyInfo(String url, Properties info) {
        return new DriverPropertyInfo[0];
    }

    @Override
    public int getMajorVersion() {
        return 1;
    }

    @Override
    public int getMinorVersion() {
        return 0;
    }

    @Override
    public boolean jdbcCompliant() {
        return false;
    }

    @Override
    public Logger getParentLogger() {
        return Logger.getLogger("tidestore");
    }
}
