package sluice.directory;

import java.util.Hashtable;
import javax.naming.Context;
import javax.naming.NamingException;
import javax.naming.directory.Attributes;
import javax.naming.directory.DirContext;
import javax.naming.directory.InitialDirContext;

/** Looks harbours up in a directory server. An integration that this library offers and this service does not use. */
public final class HarbourDirectory {
    private final DirContext context;

    public HarbourDirectory(String url) throws NamingException {
        Hashtable<String, String> environment = new Hashtable<>();
        environment.put(Context.INITIAL_CONTEXT_FACTORY, "com.sun.jndi.ldap.LdapCtxFactory");
        environment.put(Context.PROVIDER_URL, url);
        context = new InitialDirContext(environment);
    }

    public String telephone(String harbour) throws NamingException {
        Attributes attributes = context.getAttributes("ou=" + harbour);
        return String.valueOf(attributes.get("telephoneNumber").get());
    }
}
