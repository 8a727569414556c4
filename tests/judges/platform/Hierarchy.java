import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.lang.reflect.Method;
import java.lang.reflect.Modifier;
import java.lang.invoke.MethodType;
import java.util.Arrays;
import java.util.stream.Collectors;

/** Reads class names, one a line; prints superclass, interfaces and the methods that a subtype elsewhere can override. */
class Hierarchy {
    public static void main(String[] args) throws IOException {
        BufferedReader lines = new BufferedReader(new InputStreamReader(System.in));
        for (String line = lines.readLine(); line != null; line = lines.readLine()) {
            System.out.println(describe(line));
        }
    }

    static String describe(String name) {
        try {
            Class<?> type = Class.forName(name.replace('/', '.'), false, ClassLoader.getPlatformClassLoader());
            String superclass = type.isInterface() ? "java/lang/Object"
                : type.getSuperclass() == null ? "-" : internal(type.getSuperclass());
            String interfaces = Arrays.stream(type.getInterfaces()).map(Hierarchy::internal).collect(Collectors.joining(","));
            String methods = Modifier.isFinal(type.getModifiers()) ? ""
                : Arrays.stream(type.getDeclaredMethods()).filter(Hierarchy::overridable).map(Hierarchy::selector)
                    .sorted().collect(Collectors.joining(","));
            return superclass + " " + interfaces + " " + methods;
        } catch (ClassNotFoundException | LinkageError error) {
            return "absent " + error.getClass().getSimpleName();
        }
    }

    static boolean overridable(Method method) {
        int flags = method.getModifiers();
        return (Modifier.isPublic(flags) || Modifier.isProtected(flags)) && !Modifier.isStatic(flags) && !Modifier.isFinal(flags);
    }

    static String selector(Method method) {
        return method.getName() + MethodType.methodType(method.getReturnType(), method.getParameterTypes()).toMethodDescriptorString();
    }

    static String internal(Class<?> type) {
        return type.getName().replace('.', '/');
    }
}
