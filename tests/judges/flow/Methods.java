import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.lang.invoke.MethodType;
import java.lang.reflect.Method;
import java.lang.reflect.Modifier;
import java.util.stream.Stream;

/**
 * For each line "class name": every method of that name that code can call on the class, as
 * "class name descriptor open|closed static|instance", closed where the class has no subclasses; nothing where there is none.
 */
class Methods {
    public static void main(String[] args) throws IOException, ClassNotFoundException {
        BufferedReader in = new BufferedReader(new InputStreamReader(System.in));
        for (String line = in.readLine(); line != null; line = in.readLine()) {
            String asked = line;
            String[] words = line.split(" ");
            Class<?> type = Class.forName(words[0].replace('/', '.'));
            Stream.of(type.getDeclaredMethods()).filter(method -> method.getName().equals(words[1]))
                .filter(method -> Modifier.isPublic(method.getModifiers()) || Modifier.isProtected(method.getModifiers()))
                .forEach(method -> describe(asked, type, method));
        }
    }

    static void describe(String line, Class<?> type, Method method) {
        String descriptor = MethodType.methodType(method.getReturnType(), method.getParameterTypes())
            .toMethodDescriptorString();
        // Code may name a subclass as the owner even of what it cannot override.
        boolean isFinal = Modifier.isFinal(type.getModifiers());
        System.out.println(line + " " + descriptor + (isFinal ? " closed" : " open")
            + (Modifier.isStatic(method.getModifiers()) ? " static" : " instance"));
    }
}
