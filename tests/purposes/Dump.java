import java.lang.management.ManagementFactory;
import javax.management.ObjectName;

/** Writes a heap dump of itself, as management endpoints do: by the bean's name, so that no class file names the module. */
public class Dump {
    public static void main(String[] words) throws Exception {
        ManagementFactory.getPlatformMBeanServer().invoke(
                new ObjectName(words[0]), "dumpHeap", new Object[] {words[1], true}, new String[] {"java.lang.String", "boolean"});
    }
}
