package harbour.locks;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import io.javalin.Javalin;
import io.javalin.http.Context;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import javax.sql.DataSource;

/** A service that counts lockings; says on its standard output which port it was given. */
public final class Locks {
    private final DataSource database;

    private Locks(DataSource database) {
        this.database = database;
    }

    public static void main(String[] args) throws SQLException {
        HikariConfig pool = new HikariConfig();
        pool.setJdbcUrl("jdbc:h2:mem:locks;DB_CLOSE_DELAY=-1");
        pool.setMaximumPoolSize(2);
        Locks locks = new Locks(new HikariDataSource(pool));
        locks.createTable();
        Javalin server = Javalin.create(config -> {
            config.startup.showJavalinBanner = false;
            config.jetty.host = "127.0.0.1";
            config.routes.post("/lockings/{lock}", locks::add);
            config.routes.get("/lockings/{lock}", locks::list);
        }).start(0);
        System.out.println("listening on http://127.0.0.1:" + server.port());
    }

    private void createTable() throws SQLException {
        try (Connection connection = database.getConnection(); Statement statement = connection.createStatement()) {
            statement.execute("create table locking (id identity primary key, lock_name varchar(40), vessel varchar(80))");
        }
    }

    private void add(Context context) throws SQLException {
        try (Connection connection = database.getConnection();
                PreparedStatement insert =
                        connection.prepareStatement("insert into locking (lock_name, vessel) values (?, ?)")) {
            insert.setString(1, context.pathParam("lock"));
            insert.setString(2, context.body());
            insert.executeUpdate();
            context.status(201);
        }
    }

    private void list(Context context) throws SQLException {
        StringBuilder text = new StringBuilder();
        try (Connection connection = database.getConnection();
                PreparedStatement select =
                        connection.prepareStatement("select vessel from locking where lock_name = ? order by id")) {
            select.setString(1, context.pathParam("lock"));
            ResultSet rows = select.executeQuery();
            while (rows.next()) {
                text.append(rows.getString(1)).append('\n');
            }
        }
        context.result(text.toString());
    }
}
