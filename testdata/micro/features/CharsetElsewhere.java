package features;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStreamWriter;

/*
 * One class names a charset, and another takes it out of a longer text.
 * source: JDK Supported Encodings
 * module: jdk.charsets
 * effect: breaks
 * packed: yes
 * library: Part
 */
public class CharsetElsewhere {
    public static class Part {
        private String type;
        private String text;

        public void set(String text, String charset) {
            this.text = text;
            type = "text/plain; charset=" + charset;
        }

        public int write() throws IOException {
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            try (OutputStreamWriter writer = new OutputStreamWriter(out, type.substring(type.indexOf('=') + 1))) {
                writer.write(text);
            }
            return out.size();
        }
    }

    public static void main(String[] args) throws IOException {
        Part part = new Part();
        part.set("\u6f6e\u4f4d", "ISO-2022-JP");
        System.out.println(part.write());
    }
}
