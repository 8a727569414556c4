package harbour.web;

import jakarta.servlet.http.HttpServlet;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;

/** Lists the readings of a station inside a servlet container. */
public class StationServlet extends HttpServlet {
    @Override
    protected void doGet(HttpServletRequest request, HttpServletResponse response) throws IOException {
        try (Connection connection = DriverManager.getConnection("jdbc:tide:");
                PreparedStatement select =
                        connection.prepareStatement("select * from readings where station = ?")) {
            select.setString(1, request.getParameter("station"));
            ResultSet rows = select.executeQuery();
            while (rows.next()) {
                response.getWriter().println(rows.getDouble("level"));
            }
        } catch (SQLException e) {
            throw new IOException("no readings", e);
        }
    }
}
