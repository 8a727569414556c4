package names;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/*
 * A text is an expression that names a class, and a library takes it apart.
 * source: common practice, no source
 * effect: breaks
 * library: Language
 */
public class ExpressionInText {
    public static class Language {
        public static Object value(String expression) throws Exception {
            Matcher made = Pattern.compile("new ([\\w.]+)\\((\\d+)\\)").matcher(expression);
            if (!made.matches()) {
                return null;
            }
            return Class.forName(made.group(1)).getConstructor(long.class).newInstance(Long.parseLong(made.group(2)));
        }
    }

    public static void main(String[] args) throws Exception {
        System.out.println(Language.value("new java.sql.Timestamp(0)") != null);
    }
}
