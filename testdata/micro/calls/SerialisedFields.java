package calls;

import java.io.ByteArrayOutputStream;
import java.io.ObjectOutputStream;
import java.io.Serializable;

/*
 * Serialisation lists the fields of an object's class, and loads their types.
 * source: Java Object Serialization Specification, section 4.6
 * effect: breaks
 * packed: yes
 */
public class SerialisedFields implements Serializable {
    java.sql.Timestamp at;

    public static void main(String[] args) throws Exception {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        new ObjectOutputStream(bytes).writeObject(new SerialisedFields());
        System.out.println(bytes.size() > 0);
    }
}
