package inspect;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.ObjectInputStream;
import java.io.ObjectOutputStream;
import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;

/*
 * Objects out of a list are written to a stream, one of which has a hook that needs the module.
 * source: Java Object Serialization Specification, 2.3
 * effect: breaks
 */
public class StreamOfAny {
    public static class Reading implements Serializable {
        private static final long serialVersionUID = 1;

        private Object writeReplace() {
            return "at " + new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) throws Exception {
        List<Object> all = new ArrayList<>();
        all.add(new Reading());
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (ObjectOutputStream out = new ObjectOutputStream(bytes)) {
            out.writeObject(all);
        }
        System.out.println(new ObjectInputStream(new ByteArrayInputStream(bytes.toByteArray())).readObject());
    }
}
