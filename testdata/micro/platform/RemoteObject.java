package platform;

/*
 * A method of a remote object is called through its stub.
 * source: RMI specification 2.4
 * effect: breaks
 * also: java.rmi
 */
public class RemoteObject {
    public interface Gauge extends java.rmi.Remote {
        int nanos() throws java.rmi.RemoteException;
    }

    public static class Impl implements Gauge {
        public int nanos() {
            return new java.sql.Timestamp(0L).getNanos();
        }
    }

    public static void main(String[] args) throws Exception {
        Object stub = java.rmi.server.UnicastRemoteObject.exportObject(new Impl(), 0);
        for (var m : stub.getClass().getMethods()) {
            if (m.getName().equals(args.length == 0 ? "nanos" : "x")) {
                System.out.println(m.invoke(stub));
            }
        }
        System.exit(0);
    }
}
