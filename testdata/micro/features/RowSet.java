package features;

/*
 * A factory for row sets is asked for.
 * source: Java SE API javax.sql.rowset.RowSetProvider
 * module: java.sql.rowset
 * also: java.sql java.naming
 * effect: breaks
 */
class RowSet {
    public static void main(String[] args) throws Exception {
        System.out.println(javax.sql.rowset.RowSetProvider.newFactory() != null);
    }
}
