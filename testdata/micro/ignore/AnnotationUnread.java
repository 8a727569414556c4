package ignore;

/*
 * An annotation type is missing and nothing reads annotations.
 * source: JVMS §4.7.16
 * module: java.desktop
 * effect: fine
 */
class AnnotationUnread {
    static class Gauge {
        final int level;
        @java.beans.ConstructorProperties("level") Gauge(int level) { this.level = level; }
    }

    public static void main(String[] args) {
        System.out.println(new Gauge(212).level);
    }
}
