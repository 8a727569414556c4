package harbour.tides;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.NotBlank;
import java.math.BigDecimal;

/** A level in metres above chart datum. */
public record Reading(@NotBlank String station, @DecimalMax("20") BigDecimal level) {}
