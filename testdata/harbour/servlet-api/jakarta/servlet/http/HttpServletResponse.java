package jakarta.servlet.http;

import java.io.IOException;
import java.io.PrintWriter;

/** Only what the demonstration compiles against; a container brings the real interface. */
public interface HttpServletResponse {
    PrintWriter getWriter() throws IOException;
}
