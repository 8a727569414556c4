package features;

/*
 * A login module of the platform is named in a configuration file.
 * source: JAAS Reference Guide, login configuration file
 * module: jdk.security.auth
 * options: -Djava.security.auth.login.config=jaas.config
 * effect: breaks
 */
class LoginByFile {
    public static void main(String[] args) throws Exception {
        var context = new javax.security.auth.login.LoginContext("gauges");
        context.login();
        System.out.println(!context.getSubject().getPrincipals().isEmpty());
    }
}
