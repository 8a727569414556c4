package services;

import java.lang.invoke.MethodHandle;
import java.lang.invoke.MethodHandles;
import java.lang.invoke.MethodType;
import java.util.ServiceLoader;

/*
 * The method that looks for providers is itself found by its name, and what it is given goes through a handle.
 * source: Java SE API MethodHandles.Lookup.findStatic, ServiceLoader
 * effect: breaks
 */
public class LoaderByHandle {
    public interface Clock { int nanos(); }

    public static class Precise implements Clock {
        public int nanos() { return new java.sql.Timestamp(0L).getNanos(); }
    }

    static <S> ServiceLoader<S> providers(Class<S> service) throws Throwable {
        MethodType type = MethodType.methodType(ServiceLoader.class, Class.class);
        MethodHandle load = MethodHandles.lookup().findStatic(ServiceLoader.class, "load", type);
        @SuppressWarnings("unchecked")
        ServiceLoader<S> found = (ServiceLoader<S>) load.bindTo(service).invoke();
        return found;
    }

    public static void main(String[] args) throws Throwable {
        System.out.println(providers(Clock.class).iterator().next().nanos());
    }
}
