package jakarta.servlet.http;

/** Only what the demonstration compiles against; a container brings the real interface. */
public interface HttpServletRequest {
    String getParameter(String name);
}
