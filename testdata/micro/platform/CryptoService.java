package platform;

/*
 * A security provider gives the name of an engine class by the class.
 * source: Java SE API Provider.Service
 * effect: breaks
 */
public class CryptoService {
    public static class Digest extends java.security.MessageDigestSpi {
        protected void engineUpdate(byte b) { }
        protected void engineUpdate(byte[] b, int o, int l) { }
        protected byte[] engineDigest() {
            return new byte[new java.sql.Timestamp(0L).getNanos() + 1];
        }
        protected void engineReset() { }
    }

    public static class Maker extends java.security.Provider {
        Maker() {
            super("tide", "1", "tides");
            putService(new Service(this, "MessageDigest", "TIDE", Digest.class.getName(), null, null));
        }
    }

    public static void main(String[] args) throws Exception {
        java.security.Security.addProvider(new Maker());
        System.out.println(java.security.MessageDigest.getInstance("TIDE").digest().length);
    }
}
