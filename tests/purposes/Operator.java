import com.sun.jdi.Bootstrap;
import com.sun.jdi.VirtualMachine;
import com.sun.jdi.connect.AttachingConnector;
import java.lang.management.ManagementFactory;
import javax.management.MBeanServerConnection;
import javax.management.ObjectName;
import javax.management.remote.JMXConnector;
import javax.management.remote.JMXConnectorFactory;
import javax.management.remote.JMXServiceURL;

/** What people do to a running JVM from outside, by the tools' own interfaces; runs on a whole JDK. */
public class Operator {
    public static void main(String[] words) throws Exception {
        switch (words[0]) {
            case "manage" -> manage(words[1]);
            case "debug" -> debug(words[1]);
            case "load" -> {
                var machine = com.sun.tools.attach.VirtualMachine.attach(words[1]);
                machine.loadAgent(words[2]);
                machine.detach();
            }
            default -> throw new IllegalArgumentException(words[0]);
        }
    }

    private static void manage(String address) throws Exception {
        try (JMXConnector connector = JMXConnectorFactory.connect(new JMXServiceURL(address))) {
            MBeanServerConnection beans = connector.getMBeanServerConnection();
            System.out.println(beans.getAttribute(new ObjectName(ManagementFactory.RUNTIME_MXBEAN_NAME), "Pid"));
            // An attribute that the beans of java.management have not.
            ObjectName system = new ObjectName(ManagementFactory.OPERATING_SYSTEM_MXBEAN_NAME);
            System.out.println((Long) beans.getAttribute(system, "TotalPhysicalMemorySize") > 0);
            // Thread dumps and class histograms are among its operations.
            ObjectName commands = new ObjectName("com.sun.management:type=DiagnosticCommand");
            System.out.println(beans.getMBeanInfo(commands).getOperations().length > 20);
        }
    }

    private static void debug(String port) throws Exception {
        for (AttachingConnector connector : Bootstrap.virtualMachineManager().attachingConnectors()) {
            if (!connector.name().equals("com.sun.jdi.SocketAttach")) continue;
            var arguments = connector.defaultArguments();
            arguments.get("hostname").setValue("127.0.0.1");
            arguments.get("port").setValue(port);
            VirtualMachine machine = connector.attach(arguments);
            System.out.println("classes: " + machine.classesByName("Gauge").size());
            machine.dispose();
        }
    }
}
