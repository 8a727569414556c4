package load;

/*
 * The class that is started inherits a main method of objects.
 * source: JEP 512
 * effect: breaks
 * compiler: 25
 * packed: yes
 */
public class InstanceMainAbove extends InstanceMainAboveBase {
}

class InstanceMainAboveBase {
    protected void main(String[] args) {
        System.out.println("low water at " + new java.sql.Timestamp(0L).getNanos());
    }
}
