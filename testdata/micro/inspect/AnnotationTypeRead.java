package inspect;

/*
 * The annotation that a program reads is of a missing type: it vanishes in silence.
 * source: JDK sources of sun.reflect.annotation.AnnotationParser
 * module: java.desktop
 * effect: degrades
 */
class AnnotationTypeRead {
    static class Gauge {
        final int level;
        @java.beans.ConstructorProperties("level") Gauge(int level) { this.level = level; }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Gauge.class.getDeclaredConstructors()[0].getAnnotations().length);
    }
}
