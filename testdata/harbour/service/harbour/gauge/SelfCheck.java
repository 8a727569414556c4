package harbour.gauge;

import com.sun.net.httpserver.HttpsConfigurator;
import com.sun.net.httpserver.HttpsServer;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.URL;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import jdk.jfr.Recording;
import jdk.jfr.consumer.RecordingFile;
import sluice.Courier;
import sluice.GateRule;

/** Exercises every part of the service once and says a line about each; made for trying out a trimmed runtime. */
final class SelfCheck {
    private interface Check {
        String run() throws Exception;
    }

    private SelfCheck() {}

    /** Runs the named checks, or all where none is named; the exit status is 1 if one of them failed. */
    static int run(List<String> names) {
        Map<String, Check> checks = new LinkedHashMap<>();
        checks.put("xml", SelfCheck::xml);
        checks.put("jdbc", SelfCheck::jdbc);
        checks.put("http", SelfCheck::http);
        checks.put("courier", SelfCheck::courier);
        checks.put("event", SelfCheck::event);
        checks.put("charset", SelfCheck::charset);
        checks.put("machine", SelfCheck::machine);
        checks.put("script", SelfCheck::script);
        checks.put("tls", SelfCheck::tls);
        int status = 0;
        for (String name : names.isEmpty() ? checks.keySet() : names) {
            Check check = checks.get(name);
            if (check == null) {
                System.err.println("no check called " + name);
                return 2;
            }
            try {
                System.out.println("ok " + name + ": " + check.run());
            } catch (Throwable failure) {
                Throwable root = failure;
                while (root.getCause() != null) {
                    root = root.getCause();
                }
                System.out.println("FAILED " + name + ": " + root);
                status = 1;
            }
        }
        return status;
    }

    private static void expect(boolean holds, String what) {
        if (!holds) {
            throw new IllegalStateException(what);
        }
    }

    private static String get(URI uri) throws IOException {
        URL url = uri.toURL();
        try (InputStream in = url.openStream()) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    private static String xml() throws IOException {
        List<Station> stations = StationFile.bundled();
        expect(stations.size() == 3 && stations.get(1).name().equals("Inner Lock"), "stations " + stations);
        return stations.size() + " stations read";
    }

    private static String jdbc() throws Exception {
        Path file = Files.createTempFile("tide", ".tsv");
        try {
            new Readings("jdbc:tide:" + file).add(new Reading("salt-quay", 7, 2.25));
            List<Reading> back = new Readings("jdbc:tide:" + file).of("salt-quay");
            expect(back.equals(List.of(new Reading("salt-quay", 7, 2.25))), "readings " + back);
            return "a reading stored and found again";
        } finally {
            Files.delete(file);
        }
    }

    private static String http() throws Exception {
        try (Service service = new Service(0, "jdbc:tide:")) {
            URI readings = service.address().resolve("/readings/north-mole");
            java.net.HttpURLConnection post = (java.net.HttpURLConnection) readings.toURL().openConnection();
            post.setRequestMethod("POST");
            post.setDoOutput(true);
            post.getOutputStream().write("2.5".getBytes(StandardCharsets.US_ASCII));
            expect(post.getResponseCode() == 201, "status " + post.getResponseCode());
            expect(get(readings).equals("2.5\n"), "readings " + get(readings));
            expect(get(service.address().resolve("/gate")).startsWith("60 "), "gate");
            return "a reading posted, listed, and the gate moved";
        }
    }

    private static String courier() throws Exception {
        try (Service service = new Service(0, "jdbc:tide:")) {
            int status = Courier.post(service.address().resolve("/readings/inner-lock"), "1.5");
            expect(status == 201, "status " + status);
            return "a notice carried by " + Courier.means();
        }
    }

    private static String event() throws Exception {
        Path file = Files.createTempFile("harbour", ".jfr");
        try (Recording recording = new Recording()) {
            recording.enable(ReadingEvent.class);
            recording.start();
            new Readings("jdbc:tide:").add(new Reading("north-mole", 1, 0.5));
            recording.stop();
            recording.dump(file);
            long seen = RecordingFile.readAllEvents(file).stream()
                    .filter(event -> event.getEventType().getName().equals("harbour.Reading")).count();
            expect(seen == 1, seen + " events in the recording");
            return "the recording holds the reading";
        } finally {
            Files.delete(file);
        }
    }

    private static String charset() {
        byte[] telegram = {
            (byte) 0x95, (byte) 0x96, (byte) 0x99, (byte) 0xa3, (byte) 0x88, 0x60,
            (byte) 0x94, (byte) 0x96, (byte) 0x93, (byte) 0x85, 0x40, (byte) 0xf3, 0x4b, (byte) 0xf1,
        };
        Reading reading = LegacyGauge.read(telegram, 0);
        expect(reading.equals(new Reading("north-mole", 0, 3.1)), "reading " + reading);
        return "an EBCDIC telegram understood";
    }

    private static String machine() throws ReflectiveOperationException {
        expect(Machine.processorTime() > 0, "no processor time");
        return "processor time known";
    }

    private static String script() {
        return "rules " + (GateRule.scriptable() ? "can" : "cannot") + " be scripted here";
    }

    private static String tls() throws Exception {
        HttpsServer server = HttpsServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        server.setHttpsConfigurator(new HttpsConfigurator(Upstream.context()));
        server.createContext("/", exchange -> Service.answer(exchange, 200, "high water 14:20\n"));
        server.start();
        try {
            String text = Upstream.fetch(URI.create("https://127.0.0.1:" + server.getAddress().getPort() + "/"));
            expect(text.equals("high water 14:20\n"), text);
            return "the outer harbour answered over TLS";
        } finally {
            server.stop(0);
        }
    }
}
