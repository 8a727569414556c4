package features;

/*
 * The names of the image formats are asked for.
 * source: Java SE API javax.imageio.ImageIO
 * module: java.desktop
 * effect: breaks
 */
class ImageFormats {
    public static void main(String[] args) {
        System.out.println(javax.imageio.ImageIO.getReaderFormatNames().length > 0);
    }
}
