package features;

import java.text.NumberFormat;
import java.util.Locale;

/*
 * An application chooses one of two languages, and a library writes a number in it.
 * source: JEP 252, Unicode CLDR
 * module: jdk.localedata
 * effect: degrades
 * library: Board
 */
public class LocaleChosen {
    public static class Board {
        public static String shown(Locale locale, double level) {
            return NumberFormat.getInstance(locale).format(level);
        }
    }

    public static void main(String[] args) {
        Locale locale = args.length == 0 ? Locale.GERMANY : Locale.FRANCE;
        System.out.println(Board.shown(locale, 1234.5));
    }
}
