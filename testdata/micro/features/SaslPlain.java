package features;

/*
 * A SASL client with a plain password is asked for.
 * source: Java SASL API Guide of the JDK
 * module: jdk.security.jgss
 * also: java.security.sasl java.security.jgss
 * effect: fine
 */
class SaslPlain {
    public static void main(String[] args) throws Exception {
        var client = javax.security.sasl.Sasl.createSaslClient(
            new String[] {"EXTERNAL"}, "keeper", "gauges", "127.0.0.1", null, null);
        System.out.println(client.getMechanismName());
    }
}
