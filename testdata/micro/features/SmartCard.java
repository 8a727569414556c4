package features;

/*
 * The types of smart card readers are asked for.
 * source: Java Smart Card I/O API (JSR 268)
 * module: java.smartcardio
 * effect: breaks
 */
class SmartCard {
    public static void main(String[] args) {
        System.out.println(new javax.smartcardio.CommandAPDU(0, 0xb0, 0, 0).getINS());
    }
}
