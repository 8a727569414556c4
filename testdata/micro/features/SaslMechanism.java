package features;

/*
 * A SASL client for Kerberos is asked for: null says that there is no such mechanism.
 * source: Java SASL API Guide of the JDK
 * module: jdk.security.jgss
 * also: java.security.sasl java.security.jgss
 * effect: degrades
 */
class SaslMechanism {
    public static void main(String[] args) {
        try {
            var client = javax.security.sasl.Sasl.createSaslClient(
                new String[] {"GSSAPI"}, null, "gauges", "127.0.0.1", null, null);
            System.out.println(client == null ? "none" : "some");
        } catch (javax.security.sasl.SaslException error) {
            System.out.println("some");
        }
    }
}
