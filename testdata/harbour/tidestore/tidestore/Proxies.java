package tidestore;

import java.lang.reflect.InvocationHandler;
import java.lang.reflect.Method;
import java.lang.reflect.Proxy;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.SQLFeatureNotSupportedException;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The interfaces of JDBC have some hundreds of methods; this driver means a dozen of them, so proxies answer those and
 * refuse the rest.
 */
final class Proxies {
    private static final Pattern INSERT =
            Pattern.compile("insert into readings values \\(\\?, \\?, \\?\\)", Pattern.CASE_INSENSITIVE);
    private static final Pattern SELECT =
            Pattern.compile("select \\* from readings(?: where (\\w+) = \\?)?", Pattern.CASE_INSENSITIVE);

    private Proxies() {}

    static Connection connection(TideTable table) {
        return proxy(Connection.class, (self, method, args) -> switch (method.getName()) {
            case "prepareStatement" -> statement(table, (String) args[0]);
            case "close" -> null;
            case "isClosed" -> false;
            default -> refuse(method);
        });
    }

    private static PreparedStatement statement(TideTable table, String sql) throws SQLException {
        boolean insert = INSERT.matcher(sql).matches();
        Matcher select = SELECT.matcher(sql);
        if (!insert && !select.matches()) {
            throw new SQLException("not understood: " + sql);
        }
        String column = insert ? null : select.group(1);
        String[] parameters = new String[insert ? 3 : column == null ? 0 : 1];
        return proxy(PreparedStatement.class, (self, method, args) -> {
            switch (method.getName()) {
                case "setString", "setDouble", "setLong" -> {
                    parameters[(int) args[0] - 1] = String.valueOf(args[1]);
                    return null;
                }
                case "executeUpdate" -> {
                    table.insert(parameters.clone());
                    return 1;
                }
                case "executeQuery" -> {
                    return rows(table.select(column, column == null ? null : parameters[0]));
                }
                case "close" -> {
                    return null;
                }
                default -> {
                    return refuse(method);
                }
            }
        });
    }

    private static ResultSet rows(List<String[]> rows) {
        int[] at = {-1};
        return proxy(ResultSet.class, (self, method, args) -> switch (method.getName()) {
            case "next" -> ++at[0] < rows.size();
            case "getString" -> cell(rows.get(at[0]), args[0]);
            case "getDouble" -> Double.parseDouble(cell(rows.get(at[0]), args[0]));
            case "getLong" -> Long.parseLong(cell(rows.get(at[0]), args[0]));
            case "close" -> null;
            default -> refuse(method);
        });
    }

    private static String cell(String[] row, Object column) throws SQLException {
        return row[column instanceof Integer number ? number - 1 : TideTable.index((String) column)];
    }

    private static Object refuse(Method method) throws SQLException {
        throw new SQLFeatureNotSupportedException(method.getName());
    }

    private static <T> T proxy(Class<T> type, InvocationHandler handler) {
        return type.cast(Proxy.newProxyInstance(Proxies.class.getClassLoader(), new Class<?>[] {type}, handler));
    }
}
