package names;

import java.util.ArrayList;
import java.util.ListResourceBundle;
import java.util.List;
import java.util.ResourceBundle;

/*
 * The base name of a bundle comes out of a list.
 * source: Java SE API ResourceBundle.getBundle
 * effect: breaks
 */
public class BundleFromList {
    public static class Texts extends ListResourceBundle {
        protected Object[][] getContents() {
            return new Object[][] {{"since", new java.sql.Timestamp(0L)}};
        }
    }

    public static void main(String[] args) {
        List<String> names = new ArrayList<>();
        names.add("names.BundleFromList$Texts");
        System.out.println(ResourceBundle.getBundle(names.get(0)).getObject("since") != null);
    }
}
