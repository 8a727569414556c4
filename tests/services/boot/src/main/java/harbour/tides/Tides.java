package harbour.tides;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;

/** A tide-gauge service; says on its standard output which port it was given. */
@SpringBootApplication
public class Tides {
    public static void main(String[] args) {
        SpringApplication.run(Tides.class, args);
    }

    @EventListener
    public void ready(ApplicationReadyEvent event) {
        String port = event.getApplicationContext().getEnvironment().getProperty("local.server.port");
        System.out.println("listening on http://127.0.0.1:" + port);
    }
}
