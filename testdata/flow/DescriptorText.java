package flow;

import java.lang.invoke.MethodType;

/**
 * The types of a method descriptor.
 * case: 13
 * known: exact
 */
public class DescriptorText {
    public static void main(String[] args) {
        MethodType type = MethodType.fromMethodDescriptorString(
            "(Ljava/sql/Driver;I[Ljava/sql/Date;)Ljava/util/logging/Level;", null);
        System.out.println("asks " + type.parameterType(0).getName());
        System.out.println("asks " + type.parameterType(2).getComponentType().getName());
        System.out.println("asks " + type.returnType().getName());
    }
}
