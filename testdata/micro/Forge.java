import static java.lang.constant.ConstantDescs.CD_Object;
import static java.lang.constant.ConstantDescs.CD_String;

import java.lang.classfile.ClassFile;
import java.lang.classfile.ClassModel;
import java.lang.classfile.ClassTransform;
import java.lang.classfile.CodeBuilder;
import java.lang.classfile.MethodModel;
import java.lang.constant.ClassDesc;
import java.lang.constant.ConstantDesc;
import java.lang.constant.ConstantDescs;
import java.lang.constant.DirectMethodHandleDesc;
import java.lang.constant.DynamicCallSiteDesc;
import java.lang.constant.DynamicConstantDesc;
import java.lang.constant.MethodHandleDesc;
import java.lang.constant.MethodTypeDesc;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.function.Consumer;

/**
 * Puts instructions into stub methods that no compiler at hand emits: constants of method types and handles
 * (JVMS §4.4.8, §4.4.9), dynamic constants (JEP 309), and concatenation as releases before 19 compiled it.
 * Run as {@code java Forge.java CLASSES}; it rewrites the stubs in that folder and needs JDK 24 or later (JEP 484).
 */
class Forge {
    static final ClassDesc CONNECTION = ClassDesc.of("java.sql.Connection");
    static final ClassDesc DRIVER = ClassDesc.of("java.sql.Driver");
    static final MethodTypeDesc CLOSING = MethodTypeDesc.of(ConstantDescs.CD_void, CONNECTION);

    public static void main(String[] args) throws Exception {
        Map<String, Consumer<CodeBuilder>> bodies = Map.of(
            "run/OldConcatenation$Text.of", Forge::concatenation,
            "run/TypeConstant$Constant.get", code -> code.loadConstant(CLOSING).areturn(),
            "run/ConstantsUnreached$Constant.get", code -> code.loadConstant(CLOSING).areturn(),
            "run/HandleConstant$Constant.get", code -> code.loadConstant(timeout()).areturn(),
            "run/DynamicConstant$Constant.get", code -> code.loadConstant(driver()).areturn());
        for (var body : bodies.entrySet()) {
            int dot = body.getKey().lastIndexOf('.');
            Path file = Path.of(args[0], body.getKey().substring(0, dot) + ".class");
            if (Files.exists(file)) {
                replace(file, body.getKey().substring(dot + 1), body.getValue());
            }
        }
    }

    static void replace(Path file, String method, Consumer<CodeBuilder> body) throws Exception {
        ClassModel model = ClassFile.of().parse(file);
        ClassTransform transform = (builder, element) -> {
            if (element instanceof MethodModel old && old.methodName().equalsString(method)) {
                builder.withMethodBody(old.methodName(), old.methodType(), old.flags().flagsMask(), body);
            } else {
                builder.with(element);
            }
        };
        Files.write(file, ClassFile.of().transformClass(model, transform));
    }

    /** {@code "store: " + connection} with the static type of the operand in the call site's descriptor. */
    static void concatenation(CodeBuilder code) {
        DirectMethodHandleDesc factory = ConstantDescs.ofCallsiteBootstrap(
            ClassDesc.of("java.lang.invoke.StringConcatFactory"), "makeConcatWithConstants",
            ConstantDescs.CD_CallSite, CD_String, CD_Object.arrayType());
        MethodTypeDesc type = MethodTypeDesc.of(CD_String, CONNECTION);
        ConstantDesc recipe = "store: \u0001";
        code.aload(0).invokedynamic(DynamicCallSiteDesc.of(factory, "makeConcatWithConstants", type, recipe)).areturn();
    }

    static MethodHandleDesc timeout() {
        return MethodHandleDesc.ofMethod(DirectMethodHandleDesc.Kind.STATIC,
            ClassDesc.of("java.sql.DriverManager"), "getLoginTimeout", MethodTypeDesc.of(ConstantDescs.CD_int));
    }

    static ConstantDesc driver() {
        DirectMethodHandleDesc bootstrap = ConstantDescs.ofConstantBootstrap(
            ClassDesc.of("run.DynamicConstant"), "bootstrap", CD_Object, ConstantDescs.CD_Class);
        return DynamicConstantDesc.ofNamed(bootstrap, "driver", CD_Object, DRIVER);
    }
}
