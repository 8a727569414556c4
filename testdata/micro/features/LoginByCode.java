package features;

/*
 * A login module of the platform is named by code.
 * source: JAAS Reference Guide
 * module: jdk.security.auth
 * effect: breaks
 */
class LoginByCode extends javax.security.auth.login.Configuration {
    @Override public javax.security.auth.login.AppConfigurationEntry[] getAppConfigurationEntry(String name) {
        return new javax.security.auth.login.AppConfigurationEntry[] {
            new javax.security.auth.login.AppConfigurationEntry("com.sun.security.auth.module.UnixLoginModule",
                javax.security.auth.login.AppConfigurationEntry.LoginModuleControlFlag.REQUIRED, java.util.Map.of())
        };
    }

    public static void main(String[] args) throws Exception {
        var context = new javax.security.auth.login.LoginContext("gauges", null, null, new LoginByCode());
        context.login();
        System.out.println(!context.getSubject().getPrincipals().isEmpty());
    }
}
