package inspect;

/*
 * Somebody lists the components of the records that a sealed interface permits.
 * source: JEP 409, Java SE API Class.getPermittedSubclasses, Class.getRecordComponents
 * effect: breaks
 * packed: yes
 */
public class PermittedComponents {
    public sealed interface Event permits High, Low {
    }

    public record High(int level) implements Event {
    }

    public record Low(java.sql.Timestamp at) implements Event {
    }

    public static void main(String[] args) {
        for (Class<?> event : Event.class.getPermittedSubclasses()) {
            System.out.println(event.getSimpleName() + " " + event.getRecordComponents().length);
        }
    }
}
