package harbour.tides;

import jakarta.validation.Valid;
import java.util.List;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** Takes readings in and lists them. */
@RestController
public class ReadingController {
    private final JdbcTemplate database;

    public ReadingController(JdbcTemplate database) {
        this.database = database;
    }

    @PostMapping("/readings")
    @ResponseStatus(HttpStatus.CREATED)
    @Transactional
    public void add(@Valid @RequestBody Reading reading) {
        database.update("insert into reading (station, level) values (?, ?)", reading.station(), reading.level());
    }

    @GetMapping("/readings/{station}")
    public List<Reading> of(@PathVariable String station) {
        return database.query("select station, level from reading where station = ? order by id",
                (row, number) -> new Reading(row.getString(1), row.getBigDecimal(2)), station);
    }
}
