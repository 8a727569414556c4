import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Enumeration;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.ArrayList;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassVisitor;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;

/**
 * A yardstick for scripts/bench: reads every class of a folder of jars with ASM (OW2), code included, one jar a task.
 *
 * <p>Arguments: FOLDER THREADS. Prints how many classes and named member instructions it saw, so that nothing is skipped.
 */
public final class ReadWithAsm {
    private static final class Counter extends ClassVisitor {
        long classes;
        long instructions;

        private final MethodVisitor code = new MethodVisitor(Opcodes.ASM9) {
            @Override
            public void visitMethodInsn(int opcode, String owner, String name, String descriptor, boolean itf) {
                instructions++;
            }

            @Override
            public void visitFieldInsn(int opcode, String owner, String name, String descriptor) {
                instructions++;
            }

            @Override
            public void visitTypeInsn(int opcode, String type) {
                instructions++;
            }
        };

        Counter() {
            super(Opcodes.ASM9);
        }

        @Override
        public MethodVisitor visitMethod(
                int access, String name, String descriptor, String signature, String[] exceptions) {
            return code;
        }
    }

    private static Counter read(Path jar) throws IOException {
        Counter counter = new Counter();
        try (ZipFile zip = new ZipFile(jar.toFile())) {
            Enumeration<? extends ZipEntry> entries = zip.entries();
            while (entries.hasMoreElements()) {
                ZipEntry entry = entries.nextElement();
                if (!entry.isDirectory() && entry.getName().endsWith(".class")) {
                    try (InputStream in = zip.getInputStream(entry)) {
                        new ClassReader(in.readAllBytes()).accept(counter, ClassReader.SKIP_DEBUG);
                        counter.classes++;
                    }
                }
            }
        }
        return counter;
    }

    public static void main(String[] args) throws Exception {
        List<Path> jars;
        try (Stream<Path> found = Files.list(Path.of(args[0]))) {
            jars = found.filter(path -> path.toString().endsWith(".jar")).sorted().toList();
        }
        ExecutorService threads = Executors.newFixedThreadPool(Integer.parseInt(args[1]));
        List<Future<Counter>> results = new ArrayList<>();
        for (Path jar : jars) {
            results.add(threads.submit(() -> read(jar)));
        }
        long classes = 0;
        long instructions = 0;
        for (Future<Counter> result : results) {
            classes += result.get().classes;
            instructions += result.get().instructions;
        }
        threads.shutdown();
        System.out.println(classes + " classes, " + instructions + " naming instructions");
    }
}
