import java.io.BufferedOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.objectweb.asm.AnnotationVisitor;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassVisitor;
import org.objectweb.asm.ConstantDynamic;
import org.objectweb.asm.FieldVisitor;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Label;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.ModuleVisitor;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.RecordComponentVisitor;
import org.objectweb.asm.Type;
import org.objectweb.asm.TypePath;
import org.objectweb.asm.signature.SignatureReader;
import org.objectweb.asm.signature.SignatureVisitor;

/** Prints, for every class of the jars given, the classes that it names by category, as ASM (OW2) reads them. */
public class Named {
    static final int API = Opcodes.ASM9;
    final Map<String, TreeSet<String>> named = new TreeMap<>();

    public static void main(String[] jars) throws Exception {
        PrintStream out = new PrintStream(new BufferedOutputStream(System.out, 1 << 16), false, StandardCharsets.UTF_8);
        for (String jar : jars) {
            try (ZipFile file = new ZipFile(jar)) {
                for (ZipEntry entry : java.util.Collections.list(file.entries())) {
                    if (entry.getName().endsWith(".class")) {
                        Named one = new Named();
                        new ClassReader(file.getInputStream(entry)).accept(one.new OfClass(), 0);
                        out.println("= " + entry.getName());
                        one.named.forEach((category, names) -> out.println(category + " " + String.join(" ", names)));
                    }
                }
            }
            out.println("# " + jar);
        }
        out.flush();
    }

    void add(String category, String name) {
        if (name != null) {
            named.computeIfAbsent(category, c -> new TreeSet<>()).add(name);
        }
    }

    void type(String category, Type type) {
        switch (type.getSort()) {
            case Type.OBJECT -> add(category, type.getInternalName());
            case Type.ARRAY -> type(category, type.getElementType());
            case Type.METHOD -> {
                for (Type argument : type.getArgumentTypes()) {
                    type(category, argument);
                }
                type(category, type.getReturnType());
            }
            default -> { }
        }
    }

    /** An operand that names a class, or an array class by its descriptor. */
    void operand(String category, String name) {
        type(category, Type.getObjectType(name));
    }

    void descriptor(String category, String text) {
        type(category, Type.getType(text));
    }

    void constant(String category, Object value) {
        if (value instanceof Type type) {
            type(category, type);
        } else if (value instanceof Handle handle) {
            handle(category, handle);
        } else if (value instanceof ConstantDynamic dynamic) {
            descriptor(category, dynamic.getDescriptor());
            bootstrap(dynamic);
        }
    }

    void bootstrap(ConstantDynamic dynamic) {
        handle("bootstrap-method", dynamic.getBootstrapMethod());
        for (int i = 0; i < dynamic.getBootstrapMethodArgumentCount(); i++) {
            constant("bootstrap-argument", dynamic.getBootstrapMethodArgument(i));
        }
    }

    void handle(String category, Handle handle) {
        operand(category, handle.getOwner());
        descriptor(category, handle.getDesc());
    }

    void signature(String category, String text, boolean isType) {
        if (text == null) {
            return;
        }
        SignatureReader reader = new SignatureReader(text);
        if (isType) {
            reader.acceptType(new Nested(category));
        } else {
            reader.accept(new Nested(category));
        }
    }

    /** Reads one type; types within it get a visitor of their own, so that each knows the name it goes on from. */
    class Nested extends SignatureVisitor {
        final String category;
        String name;

        Nested(String category) {
            super(API);
            this.category = category;
        }

        @Override
        public void visitClassType(String name) {
            this.name = name;
            add(category, name);
        }

        @Override
        public void visitInnerClassType(String inner) {
            name = name + "$" + inner;
            add(category, name);
        }

        SignatureVisitor fresh() {
            return new Nested(category);
        }

        @Override public SignatureVisitor visitTypeArgument(char wildcard) { return fresh(); }
        @Override public SignatureVisitor visitClassBound() { return fresh(); }
        @Override public SignatureVisitor visitInterfaceBound() { return fresh(); }
        @Override public SignatureVisitor visitSuperclass() { return fresh(); }
        @Override public SignatureVisitor visitInterface() { return fresh(); }
        @Override public SignatureVisitor visitParameterType() { return fresh(); }
        @Override public SignatureVisitor visitReturnType() { return fresh(); }
        @Override public SignatureVisitor visitExceptionType() { return fresh(); }
        @Override public SignatureVisitor visitArrayType() { return fresh(); }
    }

    AnnotationVisitor annotation(String text) {
        if (text != null) {
            descriptor("annotation-type", text);
        }
        return new AnnotationVisitor(API) {
            @Override
            public void visit(String name, Object value) {
                if (value instanceof Type type) {
                    type("annotation-value", type);
                }
            }

            @Override
            public void visitEnum(String name, String text, String value) {
                descriptor("annotation-value", text);
            }

            @Override
            public AnnotationVisitor visitAnnotation(String name, String text) {
                return annotation(text);
            }

            @Override
            public AnnotationVisitor visitArray(String name) {
                return annotation(null);
            }
        };
    }

    class OfClass extends ClassVisitor {
        OfClass() {
            super(API);
        }

        @Override
        public void visit(int version, int access, String name, String signature, String superclass, String[] interfaces) {
            add("superclass", superclass);
            for (String each : interfaces) {
                add("interface", each);
            }
            signature("signature", signature, false);
        }

        @Override
        public void visitOuterClass(String owner, String name, String text) {
            add("enclosing-method", owner);
            if (text != null) {
                descriptor("enclosing-method", text);
            }
        }

        @Override
        public void visitInnerClass(String name, String outer, String simple, int access) {
            add("inner-class", name);
            add("inner-class", outer);
        }

        @Override public void visitNestHost(String host) { add("nest-host", host); }
        @Override public void visitNestMember(String member) { add("nest-member", member); }
        @Override public void visitPermittedSubclass(String name) { add("permitted-subclass", name); }
        @Override public AnnotationVisitor visitAnnotation(String text, boolean visible) { return annotation(text); }

        @Override
        public AnnotationVisitor visitTypeAnnotation(int reference, TypePath path, String text, boolean visible) {
            return annotation(text);
        }

        @Override
        public RecordComponentVisitor visitRecordComponent(String name, String text, String signature) {
            descriptor("record-component", text);
            signature("signature", signature, true);
            return new RecordComponentVisitor(API) {
                @Override public AnnotationVisitor visitAnnotation(String text, boolean visible) { return annotation(text); }

                @Override
                public AnnotationVisitor visitTypeAnnotation(int reference, TypePath path, String text, boolean visible) {
                    return annotation(text);
                }
            };
        }

        @Override
        public FieldVisitor visitField(int access, String name, String text, String signature, Object value) {
            descriptor("field-descriptor", text);
            signature("signature", signature, true);
            return new FieldVisitor(API) {
                @Override public AnnotationVisitor visitAnnotation(String text, boolean visible) { return annotation(text); }

                @Override
                public AnnotationVisitor visitTypeAnnotation(int reference, TypePath path, String text, boolean visible) {
                    return annotation(text);
                }
            };
        }

        @Override
        public MethodVisitor visitMethod(int access, String name, String text, String signature, String[] exceptions) {
            descriptor("method-descriptor", text);
            signature("signature", signature, false);
            if (exceptions != null) {
                for (String each : exceptions) {
                    add("throws", each);
                }
            }
            return new OfMethod();
        }

        @Override
        public ModuleVisitor visitModule(String name, int access, String version) {
            return new ModuleVisitor(API) {
                @Override public void visitMainClass(String main) { add("module-descriptor", main); }
                @Override public void visitUse(String service) { add("module-descriptor", service); }

                @Override
                public void visitProvide(String service, String... providers) {
                    add("module-descriptor", service);
                    for (String each : providers) {
                        add("module-descriptor", each);
                    }
                }
            };
        }
    }

    class OfMethod extends MethodVisitor {
        OfMethod() {
            super(API);
        }

        @Override public AnnotationVisitor visitAnnotation(String text, boolean visible) { return annotation(text); }
        @Override public AnnotationVisitor visitAnnotationDefault() { return annotation(null); }

        @Override
        public AnnotationVisitor visitParameterAnnotation(int parameter, String text, boolean visible) {
            return annotation(text);
        }

        @Override
        public AnnotationVisitor visitTypeAnnotation(int reference, TypePath path, String text, boolean visible) {
            return annotation(text);
        }

        @Override
        public AnnotationVisitor visitInsnAnnotation(int reference, TypePath path, String text, boolean visible) {
            return annotation(text);
        }

        @Override
        public AnnotationVisitor visitTryCatchAnnotation(int reference, TypePath path, String text, boolean visible) {
            return annotation(text);
        }

        @Override
        public AnnotationVisitor visitLocalVariableAnnotation(
                int reference, TypePath path, Label[] start, Label[] end, int[] index, String text, boolean visible) {
            return annotation(text);
        }

        @Override
        public void visitTypeInsn(int opcode, String name) {
            operand(switch (opcode) {
                case Opcodes.NEW -> "new";
                case Opcodes.ANEWARRAY -> "new-array";
                case Opcodes.CHECKCAST -> "check-cast";
                default -> "instance-of";
            }, name);
        }

        @Override public void visitMultiANewArrayInsn(String text, int dimensions) { descriptor("new-array", text); }

        @Override
        public void visitFieldInsn(int opcode, String owner, String name, String text) {
            boolean isStatic = opcode == Opcodes.GETSTATIC || opcode == Opcodes.PUTSTATIC;
            operand(isStatic ? "static-field" : "instance-field", owner);
            descriptor("reference-descriptor", text);
        }

        @Override
        public void visitMethodInsn(int opcode, String owner, String name, String text, boolean isInterface) {
            operand(opcode == Opcodes.INVOKESTATIC ? "static-call" : "instance-call", owner);
            descriptor("reference-descriptor", text);
        }

        @Override
        public void visitInvokeDynamicInsn(String name, String text, Handle bootstrap, Object... arguments) {
            descriptor("call-site-descriptor", text);
            handle("bootstrap-method", bootstrap);
            for (Object each : arguments) {
                constant("bootstrap-argument", each);
            }
        }

        @Override
        public void visitLdcInsn(Object value) {
            boolean isClass = value instanceof Type type && type.getSort() != Type.METHOD;
            constant(isClass ? "load-class" : "load-constant", value);
        }

        @Override
        public void visitTryCatchBlock(Label start, Label end, Label handler, String type) {
            add("catch", type);
        }

        @Override
        public void visitFrame(int kind, int localCount, Object[] local, int stackCount, Object[] stack) {
            for (int i = 0; local != null && kind != Opcodes.F_CHOP && i < localCount; i++) {
                if (local[i] instanceof String name) {
                    operand("stack-map-frame", name);
                }
            }
            for (int i = 0; stack != null && i < stackCount; i++) {
                if (stack[i] instanceof String name) {
                    operand("stack-map-frame", name);
                }
            }
        }

        @Override
        public void visitLocalVariable(String name, String text, String signature, Label start, Label end, int index) {
            descriptor("local-variable", text);
            signature("local-variable", signature, true);
        }
    }
}
