import java.nio.charset.Charset;
import java.text.Collator;
import java.text.NumberFormat;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.format.FormatStyle;
import java.util.Arrays;

/** Prints a date, a number, an order of names and some bytes, in the language and charset that it is told. */
public class Text {
    public static void main(String[] words) throws Exception {
        if (words[0].equals("charset")) {
            for (byte part : "t".getBytes(Charset.forName(words[1]))) System.out.printf("%02X", part);
            System.out.println();
            return;
        }
        System.out.println(DateTimeFormatter.ofLocalizedDate(FormatStyle.LONG).format(LocalDate.of(2026, 2, 5)).replaceAll("\\p{javaWhitespace}|\u00a0", " "));
        System.out.println(NumberFormat.getInstance().format(4.5));
        String[] names = {"ö", "z", "a"};
        Arrays.sort(names, Collator.getInstance());
        System.out.println(Arrays.stream(names).map(name -> Integer.toHexString(name.charAt(0))).toList());
    }
}
