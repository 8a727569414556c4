package harbour.gauge;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.sql.SQLException;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import sluice.GateRule;
import sluice.LocalGate;

/**
 * The service: {@code GET /stations}, {@code POST /readings/STATION} with the level as its body,
 * {@code GET /readings/STATION}, {@code GET /gate}.
 *
 * <p>Options: {@code --port N} (0 for any), {@code --store JDBC-URL}, {@code --self-check [NAME…]}.
 */
public final class Service implements AutoCloseable {
    private final HttpServer server;
    private final ExecutorService threads = Executors.newFixedThreadPool(2);
    private final Readings readings;
    private final LocalGate gate = new LocalGate();
    private final List<Station> stations;

    Service(int port, String store) throws IOException, SQLException {
        readings = new Readings(store);
        stations = StationFile.bundled();
        server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), port), 0);
        server.createContext("/stations", exchange -> answer(exchange, 200, list()));
        server.createContext("/readings/", this::readings);
        server.createContext("/gate", exchange -> answer(exchange, 200, gate.opening() + " per cent open\n"));
        server.setExecutor(threads);
        server.start();
    }

    URI address() {
        return URI.create("http://127.0.0.1:" + server.getAddress().getPort());
    }

    private String list() {
        StringBuilder text = new StringBuilder();
        for (Station station : stations) {
            text.append(station.id()).append('\t').append(station.name()).append('\n');
        }
        return text.toString();
    }

    private void readings(HttpExchange exchange) throws IOException {
        String station = exchange.getRequestURI().getPath().substring("/readings/".length());
        if (stations.stream().noneMatch(known -> known.id().equals(station))) {
            answer(exchange, 404, "no such station\n");
            return;
        }
        try {
            if (exchange.getRequestMethod().equals("POST")) {
                String body = new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8);
                Reading reading =
                        new Reading(station, System.currentTimeMillis(), Double.parseDouble(body.trim()));
                readings.add(reading);
                gate.set(GateRule.opening(reading.level()));
                answer(exchange, 201, "");
            } else {
                StringBuilder text = new StringBuilder();
                for (Reading reading : readings.of(station)) {
                    text.append(reading.level()).append('\n');
                }
                answer(exchange, 200, text.toString());
            }
        } catch (NumberFormatException e) {
            answer(exchange, 400, "not a level\n");
        } catch (SQLException e) {
            answer(exchange, 500, e.getMessage() + "\n");
        }
    }

    static void answer(HttpExchange exchange, int status, String text) throws IOException {
        byte[] body = text.getBytes(StandardCharsets.UTF_8);
        exchange.getResponseHeaders().set("Content-Type", "text/plain; charset=utf-8");
        exchange.sendResponseHeaders(status, body.length == 0 ? -1 : body.length);
        try (OutputStream out = exchange.getResponseBody()) {
            out.write(body);
        }
    }

    @Override
    public void close() {
        server.stop(0);
        threads.shutdownNow();
    }

    public static void main(String[] args) throws Exception {
        int port = 0;
        String store = "jdbc:tide:";
        for (int i = 0; i < args.length; i++) {
            switch (args[i]) {
                case "--self-check" -> System.exit(SelfCheck.run(List.of(args).subList(i + 1, args.length)));
                case "--port" -> port = Integer.parseInt(args[++i]);
                case "--store" -> store = args[++i];
                default -> {
                    System.err.println("unknown option " + args[i]);
                    System.exit(2);
                }
            }
        }
        Service service = new Service(port, store);
        System.out.println("listening on " + service.address());
    }
}
