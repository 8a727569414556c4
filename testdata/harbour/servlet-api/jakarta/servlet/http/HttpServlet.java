package jakarta.servlet.http;

import java.io.IOException;

/** Only what the demonstration compiles against; a container brings the real class. */
public abstract class HttpServlet {
    protected void doGet(HttpServletRequest request, HttpServletResponse response) throws IOException {}
}
