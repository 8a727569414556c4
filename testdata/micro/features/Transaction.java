package features;

/*
 * An exception of distributed transactions is made.
 * source: Java SE API javax.transaction.xa
 * module: java.transaction.xa
 * effect: breaks
 */
class Transaction {
    public static void main(String[] args) {
        System.out.println(new javax.transaction.xa.XAException(6).errorCode);
    }
}
