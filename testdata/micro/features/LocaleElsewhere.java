package features;

import java.text.NumberFormat;
import java.util.Locale;

/*
 * One class has the language, and another prints numbers in it.
 * source: JEP 252
 * module: jdk.localedata
 * effect: degrades
 * packed: yes
 * library: Board
 */
public class LocaleElsewhere {
    public static class Board {
        private final Locale locale;

        public Board(Locale locale) {
            this.locale = locale;
        }

        public String show(double level) {
            return NumberFormat.getInstance(locale).format(level);
        }
    }

    public static void main(String[] args) {
        System.out.println(new Board(Locale.GERMANY).show(2.5));
    }
}
