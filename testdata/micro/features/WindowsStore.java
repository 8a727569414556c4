package features;

/*
 * The certificate store of Windows is asked for; only builds for Windows have its module, so nothing can be kept here.
 * source: JDK Providers Documentation, SunMSCAPI
 * module: jdk.crypto.mscapi
 * effect: fine
 */
class WindowsStore {
    public static void main(String[] args) {
        try {
            System.out.println(java.security.KeyStore.getInstance("Windows-MY").getType());
        } catch (java.security.KeyStoreException error) {
            System.out.println("no such store");
        }
    }
}
