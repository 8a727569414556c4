package launch;

import com.sun.tools.attach.VirtualMachine;

/*
 * The program has remote management begun in itself by attaching.
 * source: Java SE API com.sun.tools.attach.VirtualMachine
 * module: jdk.management.agent
 * also: jdk.attach
 * judge: image
 * options: -Djdk.attach.allowAttachSelf=true
 * effect: breaks
 */
class AttachedAgent {
    public static void main(String[] args) throws Exception {
        VirtualMachine machine = VirtualMachine.attach(Long.toString(ProcessHandle.current().pid()));
        System.out.println(machine.startLocalManagementAgent().isEmpty());
    }
}
