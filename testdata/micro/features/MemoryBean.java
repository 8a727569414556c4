package features;

/*
 * The bean of the heap is read, which every platform has.
 * source: Java SE API java.lang.management
 * module: jdk.management
 * also: java.management
 * effect: fine
 */
class MemoryBean {
    public static void main(String[] args) {
        var bean = java.lang.management.ManagementFactory.getMemoryMXBean();
        System.out.println(bean.getHeapMemoryUsage().getUsed() > 0);
    }
}
