package flow;

import java.net.URL;

/**
 * Class files as resources, of the platform and of the program.
 * case: 14
 * known: exact
 */
public class ClassFile {
    public static void main(String[] args) {
        say(ClassFile.class.getResource("/java/sql/Driver.class"));
        say(ClassFile.class.getResource("ClassFile.class"));
        say(ClassFile.class.getClassLoader().getResource("flow/Gauge.class"));
        say(ClassFile.class.getResource("/" + Thread.class.getName().replace('.', '/') + ".class"));
    }

    private static void say(URL found) {
        String path = found.getPath();
        int begin = Math.max(path.lastIndexOf("/java/"), path.lastIndexOf("/flow/"));
        System.out.println("asks " + path.substring(begin + 1, path.length() - 6).replace('/', '.'));
    }
}

class Gauge {}
