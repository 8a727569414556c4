package harbour.gauge;

import java.lang.management.ManagementFactory;
import java.lang.management.PlatformManagedObject;

/** What the service says about the machine that it runs on. */
final class Machine {
    private Machine() {}

    /** Processor time used so far, in nanoseconds. The interface is looked up by name: not every runtime has it. */
    static long processorTime() throws ReflectiveOperationException {
        Class<?> type = Class.forName("com.sun.management.OperatingSystemMXBean");
        Object bean = ManagementFactory.getPlatformMXBean(type.asSubclass(PlatformManagedObject.class));
        return (long) type.getMethod("getProcessCpuTime").invoke(bean);
    }
}
